import { describe, expect, it } from 'vitest';
import { toNumber } from '../../core/foundation/fraction.ts';
import { metre, type Metre } from '../../core/foundation/metre.ts';
import { likeFigures } from '../../core/piece/likeFigures.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { place } from '../takes/written.ts';

/** A page with notes at these crotchets; several at one are a chord. */
const page = (at: readonly number[], m: Metre = metre(4, 4)): Reading => ({
  metre: m,
  tempo: 90,
  upbeat: place(0),
  grid: 'automatic',
  notes: at.map((x, strike) => ({
    onset: place(x),
    duration: place(0.25),
    pitch: 60 + strike,
    strike,
    doubt: 0,
  })),
  dropped: [],
  misfit: 0,
  confidence: 1,
  reason: '',
  beats: [0, 1],
  firstBeat: 0,
});
const pin = (strike: number, crotchets: number): { strike: number; onset: ReturnType<typeof place> } => ({
  strike,
  onset: place(crotchets),
});
/** Strikes that would go with it, and where to, in crotchets. */
const like = (
  before: Reading,
  pins: ReturnType<typeof pin>[],
  after = before,
  pinned: readonly number[] = [],
): [number, number][] => likeFigures(before, after, pins, pinned).map(p => [p.strike, 4 * toNumber(p.onset)]);

describe('the same figure elsewhere', () => {
  it('has the same gaps and the same place in the beat, and goes by as much', () => {
    const quavers = page([0, 0.5, 1, 1.5, 2, 3, 3.5, 4]);
    expect(like(quavers, [pin(1, 0.75)])).toEqual([
      [3, 1.75],
      [6, 3.75],
    ]);
    // On the beat, another figure.
    expect(like(quavers, [pin(2, 1.25)])).toEqual([]);
  });

  it('is not what has another neighbour', () => {
    expect(like(page([0, 0.5, 1, 2, 2.5, 2.75, 3, 3.25, 3.5, 4]), [pin(1, 0.75)])).toEqual([]);
  });

  it('of several notes goes as a whole or not at all', () => {
    const before = page([0, 0.5, 0.75, 1, 2, 2.5, 2.75, 3, 3.5, 4, 4.5, 4.75]);
    // A triplet in the first beat: the third beat is like it, the fourth lacks a note, the fifth what follows.
    const triplet = [pin(0, 0), pin(1, 1 / 3), pin(2, 2 / 3)];
    expect(like(before, triplet).map(([s]) => s)).toEqual([5, 6]);
    // What follows sooner is another figure.
    expect(like(page([0, 0.5, 0.75, 1, 2, 2.5, 2.75, 2.9375]), triplet)).toEqual([]);
    const alike = page([-1, 0, 0.5, 0.75, 1, 2, 2.5, 2.75, 3, 4, 4.5, 4.75, 5]);
    expect(
      like(alike, [pin(1, 0), pin(2, 1 / 3), pin(3, 2 / 3)]).map(([s, x]) => [s, Math.round(3 * x)]),
    ).toEqual([
      [6, 7],
      [7, 8],
      [10, 13],
      [11, 14],
    ]);
  });

  it('takes what made room along', () => {
    const before = page([0, 0.5, 0.75, 1, 2, 2.5, 2.75, 3]);
    const after = page([0, 0.25, 0.5, 1, 2, 2.5, 2.75, 3]);
    expect(like(before, [pin(1, 0.25)], after)).toEqual([
      [5, 2.25],
      [6, 2.5],
    ]);
  });

  it('leaves what was put there by hand', () => {
    expect(like(page([0, 0.5, 1, 1.5, 2, 2.5, 3]), [pin(1, 0.75)], undefined, [3])).toEqual([[5, 2.75]]);
  });

  it('at the edge of the page is like it only where the note at the edge stays', () => {
    expect(like(page([0, 0.5, 1, 2, 2.5]), [pin(1, 0.75)])).toEqual([]);
    expect(like(page([0, 0.5, 1, 2, 2.5]), [pin(4, 2.75)])).toEqual([]);
    expect(like(page([0, 1, 2, 3]), [pin(0, -0.25)])).toEqual([]);
  });

  it('is not sought for a chord taken apart, nor for what went a beat or further, nor for what stays', () => {
    const chords = page([0, 0.5, 0.5, 1, 1.5, 1.5, 2]);
    expect(like(chords, [pin(1, 0.75)])).toEqual([]);
    expect(like(chords, [pin(1, 0.75), pin(2, 0.75)])).toEqual([
      [4, 1.75],
      [5, 1.75],
    ]);
    const quavers = page([0, 0.5, 1, 1.5, 2, 2.5, 3]);
    expect(like(quavers, [pin(1, 1.5)])).toEqual([]);
    expect(like(quavers, [pin(1, 0.5)])).toEqual([]);
  });

  it('knows long beats from short ones', () => {
    // 5/8 as 3 + 2: a quaver after the beat of a long beat is none of a short one.
    const five = page([0, 0.5, 1.5, 2, 2.5, 3, 4, 4.5, 5], metre(5, 8));
    expect(like(five, [pin(1, 0.75)])).toEqual([[5, 3.25]]);
    const six = page([0, 1, 1.5, 2.5, 3, 4, 4.5], metre(6, 8));
    expect(like(six, [pin(1, 0.75)])).toEqual([
      [3, 2.25],
      [5, 3.75],
    ]);
  });

  it('never holds a note of the figure that was put right', () => {
    // Quavers all along: each is the neighbour of the next.
    const all = page(Array.from({ length: 16 }, (_, i) => i / 2));
    const found = like(all, [pin(5, 2.75), pin(6, 3.25)]);
    expect(found.every(([s]) => s !== 5 && s !== 6)).toBe(true);
    expect(new Set(found.map(([s]) => s)).size).toBe(found.length);
    expect(found).toContainEqual([7, 3.75]);
  });
});
