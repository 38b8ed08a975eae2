import { describe, expect, it } from 'vitest';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';
import { seeded } from '../reading/invented.ts';
import { played, places } from './written.ts';

const AT = [0, 1, 1.5, 2.5, 3, 4, 5, 5.5, 6.5, 7];
const PITCHES = [67, 72, 71, 69, 76];
const DOUBLED = [0, 2, 5, 7];
/** Milliseconds by which the second mallet comes late, of each of those. */
const LATE = [8, 45, 52, 14];

/** Two bars with some notes struck by both mallets, the second of them late. */
const doubled = (seed: number, click: boolean): Take => {
  const next = seeded(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const take = played({ at: AT, pitch: PITCHES, off: AT.map(() => 12 * normal()), tempo: 92, click });
  const strikes = take.strikes.flatMap((s, i) => {
    const k = DOUBLED.indexOf(i);
    return k < 0 ? [s] : [s, { ...s, at: s.at + (LATE[k] ?? 0) / 1000, pitch: s.pitch - 12 }];
  });
  return { ...take, strikes };
};

// Common practice, no source: what both hands play together is one chord, however the hands differ.
describe('double stops', () => {
  it.each([
    [1, true],
    [2, true],
    [3, true],
    [1, false],
    [2, false],
    [3, false],
  ])(
    'with hands up to 52 ms apart are chords where the same bars come together elsewhere (hand %d, to a click: %s)',
    (seed, click) => {
      const [page] = readTake(doubled(seed, click));
      const first = places(page)[0] ?? 0;
      const wanted = AT.flatMap((x, i) => (DOUBLED.includes(i) ? [x, x] : [x]));
      expect(places(page).map(x => x - first)).toEqual(wanted);
    },
  );

  it('of bars that are struck one soon after the other elsewhere stay two notes', () => {
    // Demisemiquavers: the same two bars at 45 ms once, at 150 ms another time.
    const at = [0, 0.045, 0.6, 0.75, 1.2, 1.8, 2.4];
    const pitch = [60, 72, 60, 72, 65, 67, 64];
    const take = played({ at: at.map(x => x / 0.6), pitch, tempo: 100, click: true });
    const [page] = readTake(take);
    expect(places(page)[0]).not.toBe(places(page)[1]);
  });
});
