/** Every figure of writing while the pupil plays. */

/** Beats read anew at each strike, besides those of the bar under way; what lies before is held. Our choice: two bars of four. */
export const WINDOW_BEATS = 8;
/** Windows read at most, where nothing was asked for a while. Our choice. */
export const MOST_WINDOWS = 3;
/** Bars kept to be shown. Our choice: more than fit on a line. */
export const BARS_KEPT = 8;
/** Beats of a click or of a found beat that are kept. Our choice: more than is ever read. */
export const LATEST_BEATS = 96;
/** Seconds before a place at which a strike may still belong to it. Our choice: over three usual spreads early. */
export const EARLY = 0.08;
/** Seconds before the first new strike from which strikes are cleaned: a bounce is known by the blow before it. */
export const LOOK_BACK = 0.1;

/** Nats for taking back a position that was shown. From a coarse grid on invented takes (`test/reading/whilePlaying`). */
export const SHOWN = 4;

/** Strikes from which a beat is sought, and how many more must come before it is sought again. Our choice. */
export const SOUGHT_FROM = 8;
export const SOUGHT_EVERY = 4;
/** The last strikes among which it is sought. Our choice: time must not grow with the phrase. */
export const SOUGHT_AMONG = 16;
/** Confidence, of all readings on one beat together, from which that beat is sure. */
export const SURE_BEAT = 0.8;
/** Share of a beat by which beats of two readings may differ and be one. Our choice. */
export const SAME_BEAT = 0.15;
