import { describe, expect, it } from 'vitest';
import { pageAfter, withPins, withoutPins } from '../../core/piece/rereading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';
import { seeded } from '../reading/invented.ts';
import { place, played, places } from './written.ts';

/** Two bars with a soft note on the next bar some 55 ms before each of the given strikes. */
const AT = [0, 1, 1.5, 2, 4, 5, 5.5, 6, 8, 9, 9.5, 10];
const PITCHES = [67, 72, 71, 69];
const LEANT_ON = [1, 5, 9];

const leant = (seed: number, click: boolean): Take => {
  const next = seeded(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const take = played({ at: AT, pitch: PITCHES, off: AT.map(() => 15 * normal()), tempo: 96, click });
  const strikes = take.strikes.flatMap((s, i) =>
    LEANT_ON.includes(i)
      ? [{ ...s, at: s.at - 0.055 + 0.006 * normal(), pitch: s.pitch - 1, velocity: 60 }, s]
      : [s],
  );
  return { ...take, strikes };
};

// A short stroke just before a note, leaning on it, is written as an acciaccatura: common practice, no source.
describe('acciaccaturas from the next bar', () => {
  it.each([
    [1, true],
    [2, true],
    [3, true],
    [1, false],
    [2, false],
    [3, false],
  ])('are grace notes (hand %d, to a click: %s)', (seed, click) => {
    const [page] = readTake(leant(seed, click));
    expect(places(page).map(x => x - (places(page)[0] ?? 0))).toEqual(AT);
    const graces = page?.notes.flatMap(n => (n.grace === undefined ? [] : [n.pitch - n.grace.pitch]));
    expect(graces).toEqual([1, 1, 1]);
  });

  it('stay grace notes when another note is put elsewhere, and one that is pinned is a note', () => {
    const take = leant(1, true);
    const [page] = readTake(take);
    if (page === undefined) throw new Error('nothing read');
    const gracesOf = (r: typeof page | undefined): number =>
      r?.notes.filter(n => n.grace !== undefined).length ?? 0;
    const last = page.notes.at(-1)?.strike ?? 0;
    const moved = withPins({ take, hints: {}, reading: page }, [{ strike: last, onset: place(14.5) }]);
    expect(gracesOf(pageAfter(page, true, moved, readTake(take, moved)))).toBe(3);
    const soft = withPins({ take, hints: {}, reading: page }, [{ strike: 1, onset: place(4.75) }]);
    const after = pageAfter(page, true, soft, readTake(take, soft));
    expect(gracesOf(after)).toBe(2);
    expect(after?.notes.some(n => n.strike === 1)).toBe(true);
    const back = withoutPins(soft, [1]);
    expect(gracesOf(readTake(take, back)[0])).toBe(3);
  });
});
