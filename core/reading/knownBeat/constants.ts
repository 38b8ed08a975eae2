/** Every figure of taps and barlines. Costs in nats. */

/** Share of the usual gap: a tap sooner after the last is a double. Our choice. */
export const DOUBLE_TAP = 0.55;
/** Share, 0 to 1, of each smoothed beat that comes from its neighbours' line. Our choice. */
export const SMOOTHING = 0.6;
/** Shares of a beat at which strikes fall, with how often: rough shares of written music. Our choice. */
export const PLACES_STRUCK: readonly (readonly [number, number])[] = [
  [0, 0.46],
  [1 / 2, 0.24],
  [1 / 4, 0.07],
  [3 / 4, 0.09],
  [1 / 3, 0.05],
  [2 / 3, 0.07],
];
/** Chance that a strike falls anywhere. Our choice. */
export const STRUCK_ANYWHERE = 0.02;
/** Seconds: spread of strikes about smoothed taps. Our choice. */
export const TAPPED_SPREAD = 0.03;
/** Seconds by which taps are usually late, before anything is heard. Our choice. */
export const TAPS_LATE = 0.03;
/** Seconds: spread of that towards later (systems add to it). Our choice. */
export const TAPS_LATER = 0.12;
/** Seconds: spread of that towards earlier. Our choice. */
export const TAPS_EARLIER = 0.04;
/** Seconds between shifts that are tried. Our choice. */
export const SHIFT_STEP = 0.005;
/** Share of a beat: later taps cannot be told from taps on the next place. Our choice. */
export const FURTHEST_SHIFT = 0.45;
/** Seconds: shifts closer than this are one answer. Our choice. */
export const SHIFTS_APART = 0.04;
/** Times a click may be counted twice as fast or as slow. Our choice. */
export const MOST_HALVINGS = 2;
/** Shifts of the taps that are tried with a whole reading. Our choice. */
export const SHIFTS_TRIED = 3;
/** Nats behind the best beyond which a shift is not tried. Our choice. */
export const UNLIKELY_SHIFT = 8;
/** Nats a long note on a strong place is worth, for each doubling. Our choice. */
export const LONG_ACCENT = 0.5;
/** Nats a loud note on a strong place is worth, for each standard deviation of velocity. Our choice. */
export const LOUD_ACCENT = 0.25;
/** Nats a struck strong place is worth. Our choice. */
export const STRUCK_ACCENT = 0.6;
/** Nats for each beat before the first barline. Our choice: most ideas begin on the beat. */
export const UPBEAT_BEAT = 0.35;
/** Nats for beginning with an upbeat at all. Our choice. */
export const UPBEAT = 3;
/** Nats when the idea does not come again after whole bars. Our choice. */
export const BROKEN_PERIOD = 5;
/** Nats for a note that leaves its position on the page the teacher sees: in a beat with a pin, and elsewhere. Coarse grid on development cases. */
export const LEAVES_NEAR = 6;
export const LEAVES = 30;

/** Nats for another grouping of 5/8 or 7/8 than the click's own. Our choice. */
export const OTHER_GROUPING = 2;
