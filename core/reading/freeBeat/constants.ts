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
/**
 * A beat in which the player waits (a pause, a fermata, a hesitation): nats, and by how much of a beat it is
 * longer, with the spread of that. The price is
 * from a coarse grid on all development cases, without halves: 5.5 and 7 read as many pauses, and nothing else changes at 7.
 */
export const HELD_BEAT = { cost: 7, longer: 0.7, spread: 0.4 };
/** The player sought where one may have waited: [spread in seconds, drift a beat]. Our choice, between those. */
export const PLAYER_WAITING: readonly [number, number] = [0.028, 0.016];
/** How guesses that waited are sought. Our choice. */
export const WAITING = {
  /** Guesses kept at every strike of those that waited, and of those that did not yet. */
  wide: 4,
  /** Nats behind the cheapest guess that never waited up to which one that waited is read. */
  behind: 8,
  /** Beats with a wait looked at closely. */
  closely: 3,
  /** Strikes at the start of which four times as many are kept, for every beat length is open. */
  opening: 5,
};
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
 * What speaks for one way of writing a rhythm. Nats, unless said. Fitted by logistic regression over all
 * spellings of the right rhythms of about 640 development cases (real ones at a weight of 0.15: their tempi are not those of lessons), by halves: of
 * the half left out, lessons 65 %, pupils 86 % and synthetic takes 73 % get values, metre and barline right at once
 * (4/4 and 2/2 taken for one).
 */
export const SPELLING = {
  /** Weight of what an average beat's pattern costs more than where beats are counted best (no unit). */
  patterns: 2.41,
  /** Strikes in a bar, and their spread in octaves for fuller bars and (our choice, wider than fitted) for emptier ones. */
  strikesInBar: { middle: 8.4, crowded: 0.51, empty: 0.75 },
  /** Seconds of a beat that divides in two and in three, and their spread in octaves. */
  beat: { middle: 0.55, spread: 0.31 },
  dottedBeat: { middle: 0.775, spread: 0.31 },
  /**
   * For each metre against 4/4. Compound ones are up to 1.1 dearer than fitted, for 3/4 is the commoner where
   * nothing decides; 2/4 costs what 4/4 does; 2/2 and irregular metres, of which there were too few: our choice.
   */
  metres: {
    '3/4': 1.27,
    '2/4': 0,
    '5/4': 4.89,
    '6/8': -0.2,
    '12/8': 2.73,
    '9/8': 3.33,
    '2/2': 2.5,
    '5/8': 3.5,
    '7/8': 3.5,
  } as Readonly<Record<string, number>>,
  /** When the idea lasts no whole bars, an unusual number of bars, one bar. */
  brokenPeriod: 5.4,
  oddPeriod: 2.85,
  oneBar: -0.66,
  /** For an upbeat, and for each of its beats. */
  upbeat: 2.4,
  upbeatBeat: 0.89,
  /**
   * Loudness expected on a barline, on a beat and elsewhere, in standard deviations from the mean: about
   * what the development cases show. (A weight on what it says came out at 1.1, so it has none.)
   */
  loud: { bar: 0.5, beat: 0.2, elsewhere: -0.25 },
  /** For each doubling of length on a beat. */
  longBeat: -0.17,
  /** For each barline that is not struck. */
  silentBar: 0.52,
  /** When the last strike is on a barline. */
  endsOnBar: 1.46,
};
/** Seconds: beats that are written at all. Our choice. */
export const SPELT_BEATS = { shortest: 0.2, longest: 2.2 };
/** Nats behind the likeliest spelling within which another in other values or beats is kept. Of 3, 4.5 and 6 the fewest decisions on development cases. */
export const OTHER_SPELLING = 6;
/** Rhythms, likeliest first, whose spelling is weighed. Our choice: a few more than are offered. */
export const RHYTHMS_SPELT = 8;
