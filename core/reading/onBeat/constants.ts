/** Every figure of reading on one beat: what is assumed of players, and how repeats are weighed. */

/** What is assumed of a player before anything is heard. Fitted (DEVELOPERS.md, "Constants"). */
export const PLAYER = {
  /** Seconds: usual spread of strikes about their places; at the low end of the published 26 to 37 ms. */
  spread: 0.026,
  /** Spread of the logarithm of that from player to player (no unit). */
  spreadOfSpread: 0.39,
  /** Seconds by which players are late (early below zero), and the spread of that. */
  late: -0.003,
  lateSpread: 0.018,
};

/** Nats behind the best beyond which a player and vocabulary are not searched for more readings. Our choice. */
export const BREADTH = 10;

/** Ways of placing the strikes that are kept for each player and vocabulary. Our choice. */
export const ALTERNATIVES = 14;
/** Seconds: a pin further than this from its strike says that the player erred, not that the player is uneven. Our choice: three times a usual spread. */
export const ERRED = 0.08;
/** Nats for playing the idea once more. Set by hand on development cases; how is not recorded. */
export const ONCE_MORE = 1;
/** Nats an event outside the repeats costs about (rhythm and timing), to compare like with like. Set by hand on development cases; how is not recorded. */
export const OUTSIDER = 2.8;
/** Spreads from where its repeats put it beyond which a strike is no repeat. Our choice. */
export const STRANGER = 4;
/** Seconds of beats before the first and after the last strike. Our choice: no strike is written further off. */
export const MARGIN = 0.2;

/**
 * Fast strokes that are notes in time: values in ticks (quavers to demisemiquavers, triplets between), and the shortest
 * time from one to the next, in seconds, that hands keep (some 12 a second; common practice, no source). Repeated
 * sextuplets and demisemiquavers are rather a roll; over neighbouring `bars` they may be a quick scale. `drift` is by how many places a run may leave them over its whole length. Our choice.
 */
export const MEASURED = {
  values: [
    { ticks: 24, shortest: 0.085 },
    { ticks: 16, shortest: 0.085 },
    { ticks: 12, shortest: 0.085 },
    { ticks: 8, shortest: 0.105 },
    { ticks: 6, shortest: 0.095 },
  ],
  bars: [
    { ticks: 12, shortest: 0.05 },
    { ticks: 8, shortest: 0.05 },
    { ticks: 6, shortest: 0.05 },
  ],
  drift: { values: 0.5, bars: 0.35 },
};

/** A line over bars whose last stroke falls so near to a beat, in seconds, leads to a note on it. Our choice. */
export const DRAWN_TO = 0.035;
