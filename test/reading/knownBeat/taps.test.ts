import { describe, expect, it } from 'vitest';
import { metre } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import { tapShifts } from '../../../core/reading/knownBeat/tapPhase.ts';
import { played, places } from '../../takes/written.ts';

// Nobody taps evenly: s.d. of 26 to 37 ms at 600 to 800 ms in adults (Iversen 2015; Müller 2008; second-hand).
const HAND = [14, -11, 19, -16, 7, -21, 12];
const UNEVEN = [18, -22, 9, -14, 25, -8, 4, -19, 13];
const BEAT = 0.6;
const AT = [0, 1, 1.5, 2, 3, 4, 4.75, 5.5, 6, 7, 8, 9, 9.5, 10, 11];
const take = played({ at: AT, off: HAND, tempo: 100, click: false });

/** Taps on every beat of the take (which starts at 2 s), so late, unevenly. */
const tapsLate = (lateness: number): number[] =>
  Array.from({ length: 13 }, (_, i) => 2 + i * BEAT + lateness + (UNEVEN[i % UNEVEN.length] ?? 0) / 1000);

const rhythm = (taps: readonly number[]): number[] => {
  const found = places(readTake(take, { taps, metre: metre(4, 4) })[0]);
  return found.map(x => x - (found[0] ?? 0));
};

describe('taps that are late altogether', () => {
  it.each([-0.03, 0, 0.05, 0.1, 0.15, 0.2, 0.24])('by %d s still give the rhythm', lateness => {
    expect(rhythm(tapsLate(lateness))).toEqual(AT);
  });

  it.each([0, 0.1, 0.18])('by %d s, one missed and one doubled too', lateness => {
    const untidy = tapsLate(lateness).filter((_, i) => i !== 4);
    untidy.push((untidy[7] ?? 0) + 0.08);
    expect(rhythm(untidy)).toEqual(AT);
  });

  it('say how fast it goes from two of them on', () => {
    const even = played({ at: [0, 1, 2, 3, 4, 5, 6, 7], off: [0], tempo: 100, click: false });
    const tempi = [BEAT, 2 * BEAT].map(apart => readTake(even, { taps: [2, 2 + apart] })[0]?.tempo ?? 0);
    expect(tempi.map(tempo => Math.round(tempo / 10) * 10)).toEqual([100, 50]);
  });

  it('are found to be as late as they are, within what the hand leaves open', () => {
    for (const lateness of [0, 0.06, 0.12, 0.18]) {
      const map = {
        beats: Float64Array.from({ length: 13 }, (_, i) => 2 + i * BEAT + lateness),
        step: 48,
        zero: 0,
      };
      const at = Float64Array.from(take.strikes, s => s.at);
      const [likeliest] = tapShifts(map, at, 3);
      expect(Math.abs((likeliest?.seconds ?? 9) - lateness)).toBeLessThan(0.02);
    }
  });

  it('keep the barline when a note is pinned where it was written', () => {
    const hints = { taps: tapsLate(0.1), metre: metre(4, 4) };
    const [before] = readTake(take, hints);
    const note = before?.notes[5];
    if (note === undefined) throw new Error('no note');
    const [after] = readTake(take, { ...hints, pins: [{ strike: note.strike, onset: note.onset }] });
    expect(places(after)).toEqual(places(before));
  });

  it('do not move a pinned note', () => {
    const onset = { n: 3, d: 8 };
    for (const r of readTake(take, { taps: tapsLate(0.12), pins: [{ strike: 2, onset }] }))
      expect(r.notes.find(n => n.strike === 2)?.onset).toEqual(onset);
  });
});
