/** Every figure of the search for the best ways of placing strikes. */

/** Spreads beyond which no place is tried, unless there is no other way. Our choice. */
export const REACH = 4.2;
/** Divisions of a cell from here on are for runs only. Our choice. */
export const FINE_DIVISION = 6;
/** Slots of a fine division within which its strikes lie. Our choice. */
export const FINE_REACH = 1.2;
/** Nats behind the best at the same cell beyond which a path is let go. Our choice. */
export const PATH_BEAM = 25;
