/** Every figure of finding the beat of a take without a click. */

/** What is expected of a beat and of an idea before anything is heard. Costs in nats. */
export const FREE_BEAT = {
  /** Seconds: the beat people count at (lognormal), in beats that divide in two and in three, and its spread in octaves. Fitted. */
  beat: 0.58,
  dottedBeat: 0.75,
  beatSpread: 0.45,
  /** For beats that divide in three. Our choice. */
  compound: 1,
  /** Names of the vocabularies the beat is sought with. Our choice: richer ones hide wrong beats. */
  seek: ['quarters', 'quarters and thirds'],
  /** When the first strike is not on a beat. Our choice. */
  offBeatStart: 1.5,
  /** For each pair of repeats at another distance; for an idea of no whole, of unusual, of odd beats. Our choice. */
  broken: 2,
  unevenPeriod: 6,
  rarePeriod: 1,
  oddPeriod: 3,
  /** Weight of the barline in choosing between beats (no unit). Fitted by logistic regression. */
  bars: 0.9,
  /** On top, once read, when the idea comes again after an unusual or odd number of beats. Fitted by logistic regression. */
  rareBars: 4,
  oddBars: 5,
};

/** How players play together with how steadily they keep the beat: [spread in seconds, drift a beat as a share]. Our choice, about the ends of what adults show. */
export const PLAYERS_SOUGHT: readonly (readonly [number, number])[] = [
  [0.02, 0.016],
  [0.036, 0.045],
];
/** Guesses kept at every strike of a search. Our choice; wider gains nothing. */
export const GUESSES_WIDE = 16;
/** Guesses kept of every search. Our choice. */
export const GUESSES_KEPT = 8;
/** Seconds: spreads of single playings whose average is searched. Our choice. */
export const AVERAGED_SPREADS: readonly number[] = [0.024, 0.045];
/** Beats an idea may last that are tried from its average. Our choice. */
export const IDEA_BEATS: readonly number[] = [1, 2, 3, 4, 6, 8, 12, 16, 24];
/** Guesses kept of every search of an average. Our choice. */
export const KEPT_OF_AVERAGE = 2;
/** Share: spread of the first beat length about its share of the idea. Our choice. */
export const AVERAGED_LENGTH_SPREAD = 0.015;
/** Share: drift a beat of the average of several playings; most of the unevenness is gone. Our choice. */
export const AVERAGED_DRIFT = 0.012;
/** Shares: drifts tried when beat times are fitted. Our choice. */
export const FITTED_DRIFTS: readonly number[] = [0.01, 0.02, 0.045];
/** Seconds: the shortest beat tried. Our choice. */
export const SHORTEST_BEAT_TRIED = 0.27;
/** Seconds: the longest beat tried. Our choice. */
export const LONGEST_BEAT_TRIED = 1.5;
/** Seconds: a fit with a shorter beat runs backwards and is none. */
export const SHORTEST_BEAT = 0.08;
/** Share of a beat within which beats that put every strike lead to the same readings. Our choice. */
export const ALIKE = 1 / 16;
/** Beats looked at closely: of the whole take, and of the average of its repeats. 16 give no more. */
export const CLOSELY = 9;
/** Nats behind the best, on its beat alone, beyond which a candidate is not weighed further. Our choice. */
export const HOPELESS = 18;
/** Octaves within which a wished tempo is met. Our choice: 9 %. */
export const TEMPO_SLACK = 0.13;
/** Spreads beyond which a strike is not tried at a place. Our choice. */
export const BEAT_REACH = 3.6;
/** Beats without a strike after which a guess is let go. Our choice. */
export const MOST_SILENT = 6;
/** Nats behind the best at the same strike beyond which a guess is let go. Our choice. */
export const BEAT_BEAM = 14;
/** Seconds before the idea comes again within which a strike belongs to its next playing. Our choice. */
export const NEXT_START = 0.08;

/**
 * Nats of metres and barlines once the rhythm is known. Fitted by logistic regression over all metres and
 * barlines of about 360 development cases without a click, written as they should be; by halves: of the
 * held-out half, lessons 79 % right and pupils 88 %.
 */
export const BARLINE = {
  /** For 3/4, 2/4 and 5/4 against 4/4; for 12/8 and 9/8 against 6/8. */
  three: 1.17,
  two: 2.15,
  five: 3.11,
  twelve: 1.04,
  nine: 1.43,
  /** When the idea lasts no whole bars, an unusual number of bars, one bar. */
  brokenPeriod: 3.4,
  oddPeriod: 1.48,
  oneBar: -1.08,
  /** For an upbeat, for each of its beats, and where it would be more than half a bar. */
  upbeat: 1.52,
  upbeatBeat: 1.15,
  lateStart: -0.83,
  /** For each struck barline more than there are bars, and for their share. */
  struckBar: -0.14,
  struckShare: 0.15,
  /** For each doubling of length on the barline and on the half bar. */
  longBar: 0.35,
  longHalf: -0.05,
  /** For each standard deviation of loudness there; for a struck half bar. */
  loudBar: -0.32,
  loudHalf: -0.06,
  struckHalf: 0.08,
  /** When the last strike is on a barline. */
  endsOnBar: 0.73,
};
