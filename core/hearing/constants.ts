// Every constant of hearing struck bars, with its unit and where it is from. 'Fitted' ones were set by hand on 24
// invented takes rendered from recordings of one real xylophone in six surroundings (quiet, a room, people talking,
// another xylophone, a telephone); they are about sound and time, not about that instrument.

/** Sounding range that is listened to, as MIDI numbers: marimba A2 to the top of the glockenspiel's usual octaves. */
export const LOWEST_HEARD = 45;
export const HIGHEST_HEARD = 109;
/** PitchBands a semitone: a bar may be out of tune by 40 cents and still stand in one of them. */
export const PER_SEMITONE = 2;
/** Width of a band as a share of its frequency: over half a semitone, so that a whole tone away is 20 dB down. */
export const WIDTH = 0.035;
/** Seconds between two looks at the bands. Onsets are told between them. */
export const HOP = 0.003;
/** Sampling rate in Hz that is enough for the highest fundamental; faster recordings are thinned to it. */
export const ENOUGH_RATE = 20_000;

/** What makes a rise of a band a beginning. In dB where nothing is said; fitted. */
export const BAND_ONSET = {
  /** Rise within the band's own lag. */
  rise: 10,
  /** Over the middle of the bands two to six semitones away at the same time: noise is broad, a bar is narrow. */
  contrast: 15,
  /** Over what the band usually holds. */
  overFloor: 12,
  /** How much of the peak is there a little later: a knock dies at once, a bar rings. A share. */
  sustain: 0.5,
  /** How far under the loudest. */
  underLoudest: 24,
} as const;

/** Beginnings that are surely bars: from these it is told how loud the take is. Fitted. */
export const SURE = { contrast: 22, sustain: 0.6 } as const;

/** Which share of the take's blows is as loud as its level, and how far under it a blow may be, in dB. Fitted. */
export const LEVEL = { share: 0.7, under: 13 } as const;

/**
 * A blow far softer than the take that may be the pupil's all the same: a neighbour's come again and again, a soft stroke
 * is rare. So far under the take it may be, in dB; one in so many blows at most; how far it stands out at least, in dB.
 * Chosen by us; it is told with a doubt.
 */
export const SOFT_ALONE = { under: 19, oneIn: 16, contrast: 18 } as const;

/**
 * Modes of a bar above its fundamental. The second mode of a free bar is at 2.756 times the frequency, 17.5 semitones
 * (Fletcher and Rossing, The Physics of Musical Instruments, chapter 2: 1 : 2.756 : 5.404); tuned ones are at
 * three times (19) or four times (24). So from 17 semitones on a beginning may be a mode of a lower bar.
 */
export const MODE = {
  /** Semitones from the fundamental: the second mode of a free bar, and beyond what is heard of modes. */
  from: 17,
  to: 36,
  /** How much louder than its fundamental it may be. Fitted. */
  louder: 5,
  /** Seconds it may come before the fundamental has risen, besides half its band's lag, and after. Fitted. */
  before: 0.04,
  after: 0.045,
  /** Seconds by which it may tell the blow sooner than the fundamental does. Fitted. */
  sooner: 0.03,
  /** Least loudness beside the fundamental, as a factor, for that. Fitted. */
  toTell: 0.1,
} as const;

/** A blow of which only a mode stands out of the noise. Fitted. */
export const MODE_ALONE = {
  /** How loud it is beside its bar where both were heard, as a factor. */
  loud: 1,
  /** How often both were heard, at least. */
  times: 2,
  /** Least rise of the bar itself, dB, and its least loudness beside the mode, as a factor. */
  rise: 5,
  beside: 0.12,
  /** What its mode says of how loud it is, as a factor. */
  stands: 0.5,
} as const;

/** A blow on a bar that still rings: a mode begins, and the fundamental only dips or swells. Fitted. */
export const AGAIN = {
  /** Rise of the mode, dB. */
  burst: 12,
  /** Least loudness of what rings beside the mode, as a factor. */
  ringing: 0.15,
  /** In lags of the fundamental's band: within which it is lowest, and within which it is highest after. */
  dip: 2.5,
  swell: 5,
  /** Seconds besides. */
  plus: 0.02,
  /** Rise from lowest to highest, dB; more is asked where it stands out less. */
  rise: 2,
  /** A fall from before to lowest, dB, that no bar dies by itself in that time: the new blow met the old swing. */
  fall: 5,
  contrast: 18,
  faintRise: 5,
  faintContrast: 13,
  /** What goes on sounding like this is no mode of what rings faintly: modes die first. A share. */
  dies: 0.85,
} as const;

/** Contacts of mallets with bars, and what they tell of bars that ring already. In dB where nothing is said; fitted. */
export const CONTACT = {
  /** Hz above which it is listened for them: over the fundamentals of nearly all bars, and where modes beat less. */
  above: [4600, 6500, 8200],
  /** Looks before one with which it is held against, and rise over the loudest of them. */
  before: 6,
  rise: 6,
  /** Rise that is enough where a bar is heard to begin as well. */
  faint: 3.5,
  /** What is never told from silence up there; full scale 1. */
  hiss: 3e-5,
  /**
   * Looks after one within which a sibilant has swelled, and by how much, in dB: a mallet is about as bright as it gets
   * when it touches (recorded and model bars 3.6 at most, sibilants that swell in 20 ms 5 and more).
   */
  swells: [4, 14],
  grows: 4.5,
  /** Looks from one to the next at least. */
  apart: 5,
  /** Seconds, and lags besides, between it and when the bar is told to rise. */
  told: 0.03,
  lags: 0.5,
  /**
   * How little blows stand over the room, in dB, where one without a contact may be a voice: over the floor that this
   * share of bands is under. Then: from how many blows, which share of them must have one, and how far under the loud
   * ones a blow is clear enough without.
   */
  over: 25,
  room: 0.9,
  few: 4,
  trusted: 0.85,
  clear: 6,
  /** Which share of blows must have one before it tells when a blow was. */
  usual: 0.5,
  /** How loud the take's contacts are: which share of them is softer. */
  share: 0.7,
  /** How far under that one may be, and one with which a bar is heard to begin as well. */
  under: 13,
  underTold: 18,
  /** Seconds after which the same bar can be struck again, where the contact tells: a bounce. */
  soonest: 0.025,
  /** How far under the last blow on its bar what is new may be. */
  fresh: 13.5,
  /** Over the bands around. */
  contrast: 10,
  /** Seconds by which the same blow was told too late without it. */
  late: 0.07,
  /** In lags: when a band follows a blow, and for how long it is looked for what is new. */
  settles: 2.2,
  tells: 2.5,
  /** Looks from which it is told how a bar rings on. */
  known: 12,
} as const;

/** A blow that was taken for another bar's. In dB where nothing is said; fitted, and hardly anything hangs on it. */
export const MISHEARD = {
  /** What is new in a bar: at most so far under its usual blow, and so far out of its surroundings. */
  under: 5,
  contrast: 18,
  /** A voice stands less far out, and a bar of which only a mode stands out is no softer than this. */
  faint: 13,
  /** Which share of the blows on a bar must have what is a mode of it, and from how many at most it is told. */
  share: 0.5,
  looked: 16,
} as const;

/** Which bar a blow may have been on instead, and when it may be nobody's of the take. In dB; fitted. */
export const DOUBT = {
  /** How much less may be new in the other bar, beside its usual blow; how far under that, and how far out, it is. */
  less: 3,
  under: 9,
  contrast: 10,
  /** How much more must be new in one that stands out less. */
  more: 4,
  /** How far under the take a blow is that may be a neighbour's. */
  soft: 11,
} as const;

/** Where bars have partials: 1:3:6 xylophones, 1:4:10 marimbas and vibraphones, 1:2.756:5.404 free ones (see `MODE`). */
export const BAR_MODES: readonly number[] = [1, 2.756, 3, 4, 5.404, 6, 10];

/**
 * A voice that was taken for a blow. In dB where nothing is said; fitted on invented voices (test/hearing/voices.ts) and
 * on the development takes, between which there is room: of blows on bars 95 % rise by 10 dB at their contact even on
 * the phone, voices by 9 at most.
 */
export const VOICE = {
  /** What rises so much at its contact was touched by a mallet. */
  touched: 10,
  /** Seconds after such a touch in which a lesser one is a mallet's, too: strokes of a roll. */
  soonAfter: 0.1,
  /** In lags after it rose: when its partials are looked at, and from when on its swing. */
  lags: 3,
  settled: 2.2,
  /** How far under its loudest a partial may be, over what is between, and over what it was before it. */
  under: 26,
  narrow: 6,
  began: 6,
  /** Seconds before it, besides a lag: when that was. */
  before: 0.03,
  /** Which multiple the blow's own partial may be at most, and how many are looked for above it. */
  highest: 8,
  above: 6,
  /** From so many in a row on it is a voice; of what was struck together, from so many with what may be a bar's. */
  harmonics: 3,
  longRow: 5,
  /** Semitones nearer than which a partial may be another bar's. */
  same: 0.8,
  /** Seconds of its swing that are looked at, from where the next blow is left out, and how few say nothing. */
  longest: 0.35,
  apart: 0.03,
  shortest: 0.06,
  /** How far it stands out, to tell its swing from the noise around. */
  clear: 20,
  /** How much of it is no single swing that dies away; less is enough where it has a second partial. */
  unsteady: -11,
  gliding: -14,
  /** Seconds in which voices are counted, and how many make somebody who talks. */
  near: 0.7,
  few: 2,
} as const;

/** Two bars in one moment. */
export const TOGETHER = {
  /** Seconds that two blows may be apart, besides half their bands' lags, to be one moment. */
  within: 0.03,
  /** Semitones nearer than which they are one bar. */
  apart: 1.4,
  /** Least loudness of the second beside the first, as a factor. */
  beside: 0.16,
  /** An octave is heard in many bars that are struck alone: least loudness beside the lower one. */
  octave: 0.3,
} as const;

/** Seconds after which the same bar can be struck again, where no contact tells: a fast roll has 20 blows a second. */
export const SOONEST_AGAIN = 0.05;

/** Sound that goes on. Seconds where nothing is said; chosen by us. */
export const LIVE = {
  /** After so long a strike is told for good: the lowest band has then been seen to rise and to ring. */
  settled: 0.8,
  /** A strike is shown no sooner than this, for its fundamental rises after its modes. */
  soonest: 0.042,
  /** What is older than this and was not shown at once never is. */
  glimpsed: 0.25,
  /** At the start, while the room's noise is not known. */
  deaf: 0.5,
  /** Beginnings that are still put together to blows. */
  lately: 2.5,
  /** By how much a strike may turn out to be older than what was told last. */
  late: 0.1,
  /** Looks that are kept; at most twice as many are held. */
  kept: 4,
  /** From how long back it is told how loud the take is, and what a band usually holds. */
  level: 30,
  floor: 20,
  /** Strikes from which the tuning of the set is told. */
  pitches: 64,
  /** Looks from one telling to the next. */
  settleEvery: 16,
  glimpseEvery: 3,
} as const;
