import type { Milliseconds, Seconds } from '../foundation/units.ts';

/**
 * A stroke this near to where it is written is in its place. In professional trios the onsets of notes written
 * together lie 27 to 49 ms apart (standard deviation), and nobody hears them as uneven (Rasch 1979,
 * Synchronization in performed ensemble music, Acustica 43); a single displaced tone is heard from 6 ms or
 * 2.5 % of the interval on (Friberg and Sundberg 1992, STL-QPSR 33/4), which is nothing to hold a pupil to.
 */
export const IN_PLACE: Milliseconds = 50;

/** A blow further than this from a written stroke does not answer it (our choice). */
export const ANSWERS: Seconds = 0.3;

/** Another bar struck instead of the written one: no further off in time, nor in semitones (our choice). */
export const OTHER_BAR: { readonly within: Seconds; readonly semitones: number } = {
  within: 0.15,
  semitones: 12,
};

/** Blows of a roll follow each other at least this fast, and there are at least so many of them (our choice). */
export const ROLL: { readonly gap: Seconds; readonly fewest: number } = { gap: 0.2, fewest: 3 };

/**
 * A glissando was drawn where it got so far along its way and struck so many of the bars on it, both as shares: a
 * light mallet leaves some out (our choice). Its first blow may be so many semitones on along the way.
 */
export const GLISS_DRAWN: { readonly reach: number; readonly bars: number; readonly begins: number } = {
  reach: 0.75,
  bars: 0.5,
  begins: 4,
};

/** A second blow of the same bar sooner than this is the mallet's bounce, not a stroke (as in `take/clean.ts`). */
export const BOUNCE: Seconds = 0.03;

/** A device is suspected when so many strokes are late by so much, and alike (our choice). */
export const SUSPECT: {
  readonly strokes: number;
  readonly late: Milliseconds;
  readonly spread: Milliseconds;
} = { strokes: 8, late: 40, spread: 40 };

/** Slowest and fastest speed of a rehearsal, in per cent. */
export const SPEED_RANGE = { least: 40, most: 120 } as const;
