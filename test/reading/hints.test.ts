import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import { place, played, places } from '../takes/written.ts';

const HAND = [12, -9, 17, -14, 6, -18, 10, -3];

describe('what the teacher knows', () => {
  it('a grid of whole beats leaves nothing between them', () => {
    const [r] = readTake(played({ at: [0, 1, 2, 3.25, 4, 5], off: HAND }), { grid: 'beat' });
    expect(places(r).every(Number.isInteger)).toBe(true);
  });

  it('a metre holds without a click', () => {
    const take = played({ at: [0, 1, 2, 3, 4, 5, 6, 7.5, 8], off: HAND, click: false });
    for (const r of readTake(take, { metre: metre(3, 4) })) expect(r.metre).toEqual(metre(3, 4));
  });

  it('a tempo holds without a click', () => {
    const take = played({ at: [0, 0.5, 1, 1.5, 2, 3, 4, 4.5, 5, 6], off: HAND, click: false, tempo: 160 });
    for (const r of readTake(take, { tempo: 80, metre: metre(4, 4) })) {
      expect(r.tempo).toBeGreaterThan(72);
      expect(r.tempo).toBeLessThan(89);
    }
  });

  it('the named strike falls on a first barline, with and without a click', () => {
    for (const click of [true, false]) {
      const take = played({ at: [0, 1, 2, 3, 4, 5, 6, 7], off: HAND, click });
      const [r] = readTake(take, { firstBeatStrike: 2, metre: metre(4, 4) });
      const onset = r?.notes.find(n => n.strike === 2)?.onset ?? fraction(1, 3);
      expect(onset).toEqual(fraction(0));
    }
  });

  it('a pin moves the repeats of the note with it', () => {
    const at = [0, 1, 1.5, 2.75, 4, 5, 5.5, 6.75, 8, 9, 9.5, 10.75];
    const take = played({ at, pitch: [60, 64, 67, 72], off: HAND });
    const [before] = readTake(take);
    expect(before?.period).toBe(1);
    const [r] = readTake(take, { pins: [{ strike: 3, onset: place(3) }] });
    expect([3, 7, 11].map(s => places(r)[s])).toEqual([3, 7, 11]);
  });

  it('a pin where the grid has no place still holds', () => {
    const [r] = readTake(played({ at: [0, 1, 2, 3] }), {
      grid: 'beat',
      pins: [{ strike: 1, onset: fraction(1, 3) }],
    });
    expect(r?.notes[1]?.onset).toEqual(fraction(1, 3));
  });
});

describe('repeats', () => {
  it('keep a varied ending varied', () => {
    const at = [0, 1, 1.5, 2.5, 3, 4, 5, 5.5, 6.5, 7, 8, 9, 9.5, 10, 10.5, 11];
    const pitch = [60, 64, 67, 72, 67, 60, 64, 67, 72, 67, 60, 64, 67, 65, 62, 60];
    const [r] = readTake(played({ at, pitch, off: HAND }));
    expect(places(r)).toEqual(at);
    expect(r?.period).toBe(1);
  });

  it('put right what one playing got wrong', () => {
    const at = [0, 0.75, 1.5, 2.5, 3].flatMap((x, _, all) => (all.length === 0 ? [] : [x]));
    const four = [0, 4, 8, 12].flatMap(b => at.map(x => x + b));
    const off = four.map((_, i) => (i === 6 ? 75 : ([15, -12, 8, -20, 11][i % 5] ?? 0)));
    const [r] = readTake(played({ at: four, pitch: [60, 64, 67, 72, 69], off }));
    expect(places(r)).toEqual(four);
  });

  it('a note put far from where it fell stays there, and all else is read as before', () => {
    const at = [0, 0.75, 1, 1.5, 2.25, 2.5, 3, 3.5];
    const take = played({ at, off: HAND });
    const [before] = readTake(take);
    const [after, ...others] = readTake(take, { pins: [{ strike: 2, onset: place(1.25) }] });
    expect(places(before)).toEqual(at);
    expect(places(after)).toEqual([0, 0.75, 1.25, 1.5, 2.25, 2.5, 3, 3.5]);
    expect(after?.confidence).toBeGreaterThan(0.5);
    for (const other of others) expect(places(other)[2]).toBe(1.25);
  });
});
