import { describe, expect, it } from 'vitest';
import { metre, showMetre } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import { repetitionCost } from '../../../core/reading/rhythm/repetitionPrior.ts';
import { played, places } from '../../takes/written.ts';

// Uneven within the 26 to 37 ms of s.d. that adults show at 600 to 800 ms (Iversen 2015; Müller 2008; second-hand).
const HAND = [22, -31, 14, -26, 35, -12, 28, -37, 9, -19, 31];

/** An idea played over and over, as long as so many crotchets, the same bars struck each time. */
const over = (idea: readonly number[], crotchets: number, times: number) => {
  const pitches = [60, 64, 67, 62, 69, 65, 72, 60, 67];
  return {
    at: Array.from({ length: times }, (_, k) => idea.map(x => x + k * crotchets)).flat(),
    pitch: Array.from({ length: times }, () => idea.map((_, i) => pitches[i % pitches.length] ?? 60)).flat(),
  };
};

const fromFirst = (all: readonly number[]): number[] => all.map(x => x - (all[0] ?? 0));

describe('without a click', () => {
  it.each([
    ['4/4', 4, [0, 1, 1.5, 2, 3, 3.5], 92],
    ['4/4', 4, [0, 0.5, 1.5, 2, 3], 108],
    ['3/4', 3, [0, 1, 1.5, 2], 84],
  ])('an idea in %s played four times is read as it is', (_, crotchets, idea, tempo) => {
    const { at, pitch } = over(idea, crotchets, 4);
    const [r] = readTake(played({ at, pitch, off: HAND, tempo, click: false }));
    expect(fromFirst(places(r))).toEqual(at);
    expect(r?.tempo).toBeGreaterThan(tempo * 0.95);
    expect(r?.tempo).toBeLessThan(tempo * 1.05);
  });

  it('a lengthening of the beat is followed', () => {
    const at = Array.from({ length: 24 }, (_, i) => [i, ...(i % 2 === 0 ? [i + 0.5] : [])]).flat();
    const even = played({ at, tempo: 100, click: false });
    // Every beat two per cent longer than the last: sixty a minute in the end.
    const slower = (t: number): number => (0.6 * (1.02 ** t - 1)) / Math.log(1.02);
    const take = {
      ...even,
      strikes: even.strikes.map((s, i) => ({ ...s, at: 2 + slower(at[i] ?? 0) })),
    };
    expect(fromFirst(places(readTake(take)[0]))).toEqual(at);
  });

  it('a chosen metre and tempo are kept while everything else is found', () => {
    const { at, pitch } = over([0, 0.5, 1, 1.5, 2.5], 3, 3);
    const take = played({ at, pitch, off: HAND, tempo: 120, click: false });
    for (const r of readTake(take, { metre: metre(6, 8), tempo: 80 })) {
      expect(showMetre(r.metre)).toBe('6/8');
      expect(Math.abs(Math.log2(r.tempo / 80))).toBeLessThan(0.15);
    }
  });
});

describe('sameness', () => {
  const cost = (ticks: readonly number[]): number => repetitionCost(Int32Array.from(ticks), 48, 2);

  it('is cheaper the fewer different gaps there are', () => {
    expect(cost([0, 48, 96, 144, 192, 240])).toBeLessThan(cost([0, 48, 72, 144, 180, 240]));
    expect(cost([0, 24, 72, 96, 144, 168])).toBeLessThan(cost([0, 12, 72, 96, 132, 168]));
  });

  it('is never negative, and nothing for a lone strike on a beat but its place', () => {
    expect(cost([0])).toBeGreaterThan(0);
    expect(cost([])).toBe(0);
  });
});
