import fc from 'fast-check';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { barLength, metre, type Metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { likelyMotif, motifOfReading } from '../../core/piece/motifOfReading.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import type { Score } from '../../core/score/score.ts';

/** Quavers of a bar. */
export const quavers = (bar: Metre): number => toNumber(barLength(bar)) * 8;

/** Lengths in quavers, one note after the other, below zero for a rest; from `upbeat` quavers before the barline on. */
export const lineOf = (m: Metre, upbeat: number, lengths: readonly number[]): Reading => {
  let at = -upbeat;
  const notes = lengths.flatMap((length, strike) => {
    const onset = fraction(at, 8);
    at += Math.abs(length);
    return length < 0
      ? []
      : [{ onset, duration: fraction(length, 8), pitch: 60 + ((strike * 7) % 24), strike, doubt: 0 }];
  });
  return {
    metre: m,
    tempo: 100,
    upbeat: fraction(upbeat, 8),
    grid: 'automatic',
    notes,
    dropped: [],
    misfit: 0,
    confidence: 1,
    reason: '',
    beats: [0, 1],
    firstBeat: 0,
  };
};

/** Bars (index from 0) in which nobody plays. */
export const silentBarsOf = (score: Score): readonly number[] =>
  Array.from({ length: score.barCount }, (_, bar) => bar).filter(bar =>
    score.parts.every(part => (part.bars[bar]?.symbols ?? []).every(symbol => symbol.pitches.length === 0)),
  );

const METRES: readonly Metre[] = [
  metre(4, 4),
  metre(3, 4),
  metre(2, 4),
  metre(6, 8),
  metre(5, 8),
  metre(12, 8),
  metre(9, 8),
  metre(7, 8),
];

/** An idea, and the quavers of its upbeat. */
export interface Idea {
  readonly motif: Motif;
  readonly upbeat: number;
}

/**
 * An idea in any metre, from none to a beat and a half of upbeat, with a last note of any length, joined or not. No bar of
 * it is silent.
 */
export const anyIdea: fc.Arbitrary<Idea> = fc
  .record({
    m: fc.constantFrom(...METRES),
    upbeat: fc.constantFrom(0, 1, 2, 3),
    lengths: fc.array(fc.constantFrom(1, 1, 2, 2, 3, 4, -1), { minLength: 1, maxLength: 7 }),
    last: fc.integer({ min: 1, max: 9 }),
    joined: fc.boolean(),
  })
  .map(({ m, upbeat, lengths, last, joined }) => {
    const reading = lineOf(m, upbeat, [...(upbeat > 0 ? [upbeat] : []), ...lengths, last]);
    const range = { ...likelyMotif(reading), ...(joined ? { joined: true as const } : {}) };
    return { motif: motifOfReading(reading, key('C'), range), upbeat };
  });
