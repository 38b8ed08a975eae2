/** What the reader assumes of players and of rhythm, in nats and seconds; DEVELOPERS.md says where each comes from. */
export const PARAMETERS = {
  /** The sixteen patterns of four quarters of a beat (slot 0 in the lowest bit), before normalising. */
  quarters: [1.3, 2.1, 4.4, 2.6, 1.9, 1.7, 4.4, 3.4, 3.7, 2.8, 5.3, 3.2, 4.3, 3.2, 4.1, 2.5],
  /** The eight patterns of three thirds in a beat of two parts; 0 and 1 belong to the whole beat. */
  thirds: [Infinity, Infinity, 4.9, 5.1, 6, 6.4, 3, 1.7],
  /** The eight patterns of three quavers in a beat of three parts. */
  quavers: [3, 1.7, 2.5, 2.2, 1.9, 2, 1.7, 1.4],
  /** Base prices of patterns in sixths and eighths. */
  sixths: 4.4,
  eighths: 5.2,
  /** For every halving of slots below 0.12 s. */
  haste: 1.1,
  /** Chance that a beat simply repeats the last beat's pattern. */
  same: 0.06,
  goesOn: 0.5,
  silent: [0.4, 0.1, -0.2, 0],
  tied: 0,
  spread: 0.026,
  spreadOfSpread: 0.39,
  late: -0.003,
  lateSpread: 0.018,
  /** Price of each vocabulary of divisions. */
  vocabulary: { halves: 2.2, quarters: 1.7, thirds: 2.8, both: 0.6, eighths: 4.5, everything: 4.5 },
  /** Price of swung halves of a beat, and of swung quarters, whatever the ratio. */
  swing: { half: 3.2, quarter: 4 },
  /** Change of the beat length from beat to beat, as a share of it. */
  drift: 0.02,
  /** Weight of saying the same places in the bar again, on a known beat. */
  placesInBar: 0.13,
  /** Takes without a click. Beats in seconds, their spread in octaves, the rest in nats. */
  free: {
    beat: 0.58,
    dottedBeat: 0.75,
    beatSpread: 0.45,
    compound: 1,
    /** Prices of vocabularies when the beat is open too: a wrong beat hides behind a rich one. */
    vocabulary: { halves: 2, quarters: 0.6, thirds: 2.4, both: 4, eighths: 4.5, everything: 5.5 },
    /** Vocabularies the beat is sought with. */
    seek: ['quarters', 'quarters and thirds'],
    /** As `temper` below, and the chance that the right beat was among those looked at. */
    temper: 1.9,
    among: 0.82,
    /** Chance that a note is right on which all candidates agree, and how it falls when they do not. */
    sure: 0.95,
    sureness: 1.6,
    /** Nats when the first strike is not on a beat. */
    offBeatStart: 1.5,
    broken: 2,
    unevenPeriod: 6,
    rarePeriod: 1,
    oddPeriod: 3,
    /** Weights of the barline and of the sameness of gaps and of places, in choosing between beats. */
    bars: 0.9,
    gaps: 0.28,
    places: 0.4,
    /** Nats on top, once read, when the idea comes again after an unusual number of beats. */
    rareBars: 4,
    oddBars: 5,
  },
  /** Hypotheses this many nats behind the best are not searched for more readings. */
  breadth: 10,
  /** Nats are divided by this before they become chances. */
  temper: 1.15,
  /** Chance that the right places were among the candidates at all, on a known beat. */
  among: 0.99,
};
