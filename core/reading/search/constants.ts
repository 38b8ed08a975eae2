/** Every figure of the search for the best ways of placing strikes. */

/** Spreads beyond which no place is tried, unless there is no other way. Our choice. */
export const REACH = 4.2;
/** Divisions of a cell from here on are for runs only. Our choice. */
export const FINE_DIVISION = 6;
/** Slots of a fine division within which its strikes lie. Our choice. */
export const FINE_REACH = 1.2;
/** Nats behind the best at the same cell beyond which a path is let go. Our choice. */
export const PATH_BEAM = 25;
/** Nats for a note that follows the same figure, put right elsewhere. Coarse grid on development cases. */
export const FOLLOWS = 1;
/** Nats of timing that a note which stays on the page costs at most: it was written there for some reason. Our choice. */
export const STAYS_AT_MOST = 4;

/** Of the middle beat: a beat so much longer is one in which the player waited. Our choice. */
export const HELD_FROM = 1.4;
