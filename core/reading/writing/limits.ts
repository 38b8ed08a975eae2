/** At most this many readings are offered. */
export const MOST_READINGS = 5;
