/** Every figure of the prior over rhythms. Costs in nats. "Fitted": how stands in DEVELOPERS.md, "Constants". */
export const RHYTHM = {
  /** Nats of the sixteen patterns of four quarters of a beat (slot 0 in the lowest bit), before normalising. Fitted. */
  quarters: [1.3, 2.1, 4.4, 2.6, 1.9, 1.7, 4.4, 3.4, 3.7, 2.8, 5.3, 3.2, 4.3, 3.2, 4.1, 2.5],
  /** Nats of the eight patterns of three thirds in a beat that divides in two; 0 and 1 belong to the whole beat. Fitted. */
  thirds: [Infinity, Infinity, 4.9, 5.1, 6, 6.4, 3, 1.7],
  /** Nats of the eight patterns of three quavers in a beat that divides in three. Fitted. */
  quavers: [3, 1.7, 2.5, 2.2, 1.9, 2, 1.7, 1.4],
  /** Nats of patterns of sixths and eighths of a beat, and for each slot left empty. Fitted. */
  sixths: { all: 4.4, empty: 0.5, full: -1 },
  eighths: { all: 5.2, empty: 0.35, full: -1 },
  /** The same for twelfths. Our choice. */
  twelfths: { all: 6, empty: 0.3 },
  /** Nats of two and of four in the time of three, and of sixths in a beat that divides in three. Our choice. */
  twoInThree: 4.5,
  fourInThree: 5.5,
  sixthsInThree: { all: 3.6, empty: 0.25 },
  /** Nats for every halving of slots below `FAST_SLOT`. Fitted. */
  perHalving: 1.1,
  /** Chance that a beat simply repeats the last beat's pattern. Fitted. */
  same: 0.06,
  /** Nats of each vocabulary of divisions, on a known beat. Fitted. */
  vocabulary: { halves: 2.2, quarters: 1.7, thirds: 2.8, both: 0.6, eighths: 4.5, everything: 4.5 },
  /** The same where the beat is open too: a wrong beat hides behind a rich vocabulary. Fitted. */
  vocabularyOnOpenBeat: { halves: 2, quarters: 0.6, thirds: 2.4, both: 4, eighths: 4.5, everything: 5.5 },
  /** Nats of swung halves of a beat, and of swung quarters, whatever the ratio. Fitted. */
  swing: { half: 3.2, quarter: 4 },
};

/** How beats go on from one to the next, in nats. Fitted. */
export const HABITS = {
  /** Saved when a beat goes on with the last beat's division (finer than halves). */
  goesOn: 0.5,
  /** Saved by a triplet of two beats, which is one figure. From a coarse grid on development cases, without halves. */
  acrossBeats: 4,
  /** For leaving a beat unstruck, by weight of the cell: barline, half bar, beat, between beats. */
  silent: [0.4, 0.1, -0.2, 0],
};

/** The same where the beat is open: a wrong beat hides behind such triplets (one lesson of 211 less read right with them). */
export const HABITS_ON_OPEN_BEAT = { ...HABITS, acrossBeats: 0 };

/** Weights of saying the same things again (no unit): places in the bar on a known beat; gaps and places in the beat on an open one. Fitted. */
export const REPETITION = { placesInBar: 0.13, gaps: 0.28, placesInBeat: 0.4 };

/** Spreads beyond which a strike counts as an accident. Our choice. */
export const TAIL = 3.5;

/** Seconds: slots closer than this are too fast to be likely with two mallets. Fitted. */
export const FAST_SLOT = 0.12;
/** Long to short, a ratio: from here a dotted figure (3 to 1) is nearer than a triplet (2 to 1). Our choice: half way. */
export const DOTTED_FROM = 2.5;
/** Strikes that first expectations weigh in the urn. Our choice. */
export const URN_WEIGHT = 3;
