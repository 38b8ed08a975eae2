import { describe, expect, it } from 'vitest';
import { showMetre } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import { played, places } from '../../takes/written.ts';

/** The same bar over and over, with its first note louder. */
const accented = (crotchets: number, bars: number) => {
  const bar = [0, 1, 1.5, 2, 3, 4].filter(x => x < crotchets);
  const at = Array.from({ length: bars }, (_, b) => bar.map(x => b * crotchets + x)).flat();
  const pitch = at.map(x => 60 + 2 * bar.indexOf(x % crotchets));
  const take = played({ at, pitch, off: [9, -12, 5, -7, 11, -3, 8], tempo: 92, click: false });
  const velocity = (i: number): number => ((at[i] ?? 0) % crotchets === 0 ? 112 : 78 + (i % 3));
  return { ...take, strikes: take.strikes.map((s, i) => ({ ...s, velocity: velocity(i) })) };
};

// What is loud, long and comes again falls on the barline: common practice, no source.
describe('the barline of a take without a click', () => {
  it.each([
    ['4/4', 4, 4],
    ['3/4', 3, 6],
  ])('in %s stands where it is loud and where the figure comes again', (metre, crotchets, bars) => {
    const [page] = readTake(accented(crotchets, bars));
    expect(page === undefined ? '' : showMetre(page.metre)).toBe(metre);
    expect(places(page)[0]).toBe(0);
  });

  it('in no reading differs from the beats it is counted in', () => {
    for (const page of readTake(accented(3, 6))) {
      const first = page.beats[page.firstBeat] ?? Number.NaN;
      const struck = page.notes.find(n => n.onset.n === 0);
      expect(struck).toBeDefined();
      expect(Math.abs(first - (accented(3, 6).strikes[struck?.strike ?? 0]?.at ?? 0))).toBeLessThan(0.1);
    }
  });

  it('is the strike the teacher says', () => {
    const take = accented(4, 4);
    const [page] = readTake(take, { firstBeatStrike: 2 });
    expect(page?.notes.find(n => n.strike === 2)?.onset.n).toBe(0);
  });
});
