import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Reading, ReadNote } from '../../core/reading/model/reading.ts';

/** A note without doubt. @param onset from the first barline, and its duration, as numerator and denominator */
export const note = (
  onset: [number, number],
  duration: [number, number],
  pitch: number,
  strike: number,
): ReadNote => ({
  onset: fraction(...onset),
  duration: fraction(...duration),
  pitch,
  strike,
  doubt: 0,
});

/** A reading of these notes in 4/4, without anything else to say. */
export const readingOf = (notes: readonly ReadNote[]): Reading => ({
  metre: metre(4, 4),
  tempo: 90,
  upbeat: ZERO,
  grid: 'automatic',
  notes,
  dropped: [],
  misfit: 0,
  confidence: 1,
  reason: '',
  beats: [0, 1, 2],
  firstBeat: 0,
});
