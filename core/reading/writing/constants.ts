/** Every figure of writing a reading down: confidence, doubt, lengths, and what is offered. */

/** How costs become chances, with a click and without. Set so that confidence comes true (`test/tools/doubtTable.ts`). */
export const CONFIDENCE = {
  knownBeat: {
    /** Nats are divided by this before they become chances. */
    temperature: 1.15,
    /** Chance that the right places were among the candidates at all. */
    coverage: 0.99,
  },
  openBeat: {
    temperature: 1.9,
    coverage: 0.82,
    /** Chance that a note is right on which all candidates agree, and how it falls when they do not. */
    greatestConfidence: 0.95,
    exponent: 1.6,
  },
};

/** Doubt, 0 to 1, from which another place is offered. Our choice. */
export const WORTH_SHOWING = 0.1;
/** Other places offered for a note. Our choice. */
export const MOST_PLACES = 3;
/** Chance below which a candidate changes no doubt that can be seen. */
export const NEGLIGIBLE = 1e-5;
/** Readings offered at most. Our choice. */
export const MOST_READINGS = 5;
/** Readings on one beat that are offered before other beats get their turn. Our choice. */
export const PER_BEAT = 2;
/** Beats: gaps up to here are filled; beyond, something was meant to be silent. Our choice. */
export const FILLED_BEATS = 2;
/** Share of its gap: a note held shorter on a keyboard was meant short. Our choice. */
export const CUT_SHORT = 0.45;
/** Share of the gap to the next note: a roll of at least that lasts up to it. Our choice. */
export const ROLLED_ON = 0.8;
/** Confidence, 0 to 1, in strikes put on the nearest places. Our choice. */
export const FORCED = 0.1;
