/** Every figure of finding out that an idea was played several times. */

/** Seconds: strikes closer than this are one chord whatever else is heard. Our choice, well under the 30 ms of `CHORD_WINDOW`. */
export const SURE_CHORD = 0.012;
/** Seconds by which two hands may differ where pitches say that they play a chord. Our choice. */
export const WIDE_CHORD = 0.06;
/** Seconds within which a strike comes soon after another: a quaver at a middling tempo. Our choice. */
export const SOON_AFTER = 0.3;
/** Share of the take: repeats are sought up to so far apart. Our choice. */
export const LONGEST_LAG_SHARE = 0.68;
/** Seconds: the shortest time after which an idea comes again. Our choice. */
export const SHORTEST_LAG = 0.9;
/** Seconds by which a repeated strike may miss its time, where no beat is known. Set by hand on development cases; how is not recorded. */
export const LAG_TOLERANCE = 0.17;
/** Share of possible pairs, 0 to 1, from which a lag is believed. Set by hand on development cases; how is not recorded. */
export const LAG_BELIEVED = 0.74;
/** Lags looked at closely. Our choice. */
export const MOST_LAGS = 14;
/** Spreads of the take: a gap so wide between playings of one note parts two notes. Our choice. */
export const VARIANT_SPREADS = 6;
/** Share of a beat that such a gap is wide at least. Our choice. */
export const VARIANT_SHARE = 0.18;
/** Half of all deviations lie within this share of their standard deviation (normal distribution: its upper quartile). */
export const MIDDLE_HALF = 0.6745;
/** Share of a beat: two strikes further apart are no repeat of each other. Set by hand on development cases; how is not recorded. */
export const REPEAT_TOLERANCE = 0.42;
/** What a right time at another pitch counts, of a like strike's 1. Our choice. */
export const OTHER_PITCH = 0.3;
/** Share of strikes, 0 to 1, that must come again for a period to be believed. Set by hand on development cases; how is not recorded. */
export const REPEATS_BELIEVED = 0.7;
/** Strikes that must come again. Our choice. */
export const FEWEST_REPEATED = 3;
/** Bars: the longest idea whose repeats are sought. Our choice. */
export const LONGEST_PERIOD = 8;

/**
 * Nats for a player who leans on notes at all, and for each leading note. Our choice: quick notes of
 * development cases cost at most 5 more as notes than as grace notes, leading notes 5 to 90 a take.
 */
export const LEADING = { habit: 4, each: 1.2 };
