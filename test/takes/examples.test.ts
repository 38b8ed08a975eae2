import { describe, expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import { place, played, places, written } from './written.ts';

// Worked by hand; what a musician would write is common practice, no source. Strikes are displaced by
// up to 20 ms, about what a steady player does at crotchet = 90.
const HAND = [12, -9, 17, -14, 6, -18, 10, -3, 20, -12];

const best = (take: Parameters<typeof readTake>[0], hints = {}) => readTake(take, hints)[0];

describe('ideas that a reader must write as they are', () => {
  it('quaver, crotchet, quaver', () => {
    const r = best(played({ at: [0, 0.5, 1.5, 2, 3], off: HAND }));
    expect(places(r)).toEqual([0, 0.5, 1.5, 2, 3]);
    expect(written(r).slice(0, 3)).toEqual([0.5, 1, 0.5]);
  });

  it('an anticipation held over the barline', () => {
    const at = [0, 1, 2, 3, 3.5, 5, 6, 7];
    const r = best(played({ at, off: HAND }));
    expect(places(r)).toEqual(at);
    expect(written(r)[4]).toBe(1.5);
  });

  it('charleston: dotted crotchet, quaver', () => {
    const at = [0, 1.5, 4, 5.5];
    expect(places(best(played({ at, off: HAND })))).toEqual(at);
  });

  it('tresillo: three, three, two', () => {
    const at = [0, 1.5, 3, 4, 5.5, 7];
    expect(places(best(played({ at, off: HAND })))).toEqual(at);
  });

  it('son clave in one bar of semiquavers', () => {
    const at = [0, 0.75, 1.5, 2.5, 3];
    expect(places(best(played({ at, off: HAND, tempo: 80 })))).toEqual(at);
  });

  it.each([
    ['1.5 to 1', 0.6],
    ['2 to 1', 2 / 3],
  ])('quavers swung %s are written even', (_, swing) => {
    const at = [0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 4.5, 5, 5.5, 6, 6.5, 7];
    const r = best(played({ at, off: HAND.map(x => x / 2), swing, tempo: 120 }));
    expect(places(r)).toEqual(at);
    expect(r?.swing?.ratio).toBeGreaterThan(1.2);
  });

  it('without swing tolerance the same quavers become triplets', () => {
    const at = [0, 0.5, 1, 1.5, 2, 2.5, 3, 4];
    const r = best(played({ at, swing: 2 / 3, tempo: 100 }), { swingTolerance: 'none' });
    expect(r?.swing).toBeUndefined();
    expect(places(r)[1]).toBeCloseTo(2 / 3, 9);
  });

  it('one triplet among quavers', () => {
    const at = [0, 0.5, 1, 4 / 3, 5 / 3, 2, 2.5, 3, 4, 4.5, 5, 6];
    const r = best(played({ at, off: HAND.map(x => x / 2), tempo: 80 }));
    places(r).forEach((x, i) => expect(x).toBeCloseTo(at[i] ?? NaN, 9));
    expect(r?.reason).toContain('triplet in bar 1');
  });

  it('six quavers to a click in 6/8, and to one in 3/4', () => {
    const at = [0, 0.5, 1, 1.5, 2, 2.5, 3, 4.5];
    const six = best(played({ at, off: HAND, metre: metre(6, 8), tempo: 110 }));
    const three = best(played({ at, off: HAND, metre: metre(3, 4), tempo: 110 }));
    expect(places(six)).toEqual(at);
    expect(places(three)).toEqual(at);
    expect([six?.metre.lower, three?.metre.lower]).toEqual([8, 4]);
  });

  it('an upbeat', () => {
    const at = [-1, 0, 1, 2, 3, 4];
    const r = best(played({ at, off: HAND }));
    expect(places(r)).toEqual(at);
    expect(r?.upbeat).toEqual({ n: 1, d: 4 });
  });

  it('a rest on the first beat', () => {
    const at = [1, 1.5, 2, 3, 5, 5.5, 6, 7];
    const r = best(played({ at, off: HAND }));
    expect(places(r)).toEqual(at);
  });

  it('a long silence is a rest, unless bars ring', () => {
    const at = [0, 1, 2, 8];
    expect(written(best(played({ at })))[2]).toBe(1);
    expect(written(best(played({ at }), { letRing: true }))[2]).toBe(6);
  });

  it.each([
    [5, 4, [0, 1, 2, 3, 4, 5, 6.5, 8, 9]],
    [5, 8, [0, 0.5, 1, 1.5, 2, 2.5, 3.5, 4, 4.5]],
    [7, 8, [0, 0.5, 1, 2, 2.5, 3, 3.5, 4.5, 5.5, 6]],
    [2, 2, [0, 1, 2, 3, 3.5, 4, 6]],
    [9, 8, [0, 1, 1.5, 2.5, 3, 4.5, 5.5, 6, 7.5]],
    [12, 8, [0, 1, 1.5, 2.5, 3, 4.5, 5.5, 6]],
  ])('in %i/%i', (beats, unit, at) => {
    const r = best(played({ at, off: HAND.map(x => x / 2), metre: metre(beats, unit), tempo: 96 }));
    expect(places(r)).toEqual(at);
  });
});

describe('strikes that are not notes, and notes that are', () => {
  const with_ = (extra: { after: number; pitch: number; velocity: number }) => {
    const take = played({ at: [0, 1, 2, 3], pitch: [60, 64, 67, 60] });
    const second = take.strikes[1];
    if (second === undefined) throw new Error('no second strike');
    const strike = { at: second.at + extra.after, pitch: extra.pitch, velocity: extra.velocity };
    return { ...take, strikes: [...take.strikes.slice(0, 2), strike, ...take.strikes.slice(2)] };
  };

  it('a bounce is dropped', () => {
    const r = best(with_({ after: 0.05, pitch: 64, velocity: 20 }));
    expect(r?.dropped).toEqual([2]);
    expect(places(r)).toEqual([0, 1, 2, 3]);
  });

  it('two blows of like force are two notes', () => {
    const r = best(with_({ after: 0.05, pitch: 64, velocity: 85 }));
    expect(r?.dropped).toEqual([]);
    expect(r?.notes).toHaveLength(5);
  });

  it('a flam is a grace note to the louder blow', () => {
    const played = with_({ after: -0.035, pitch: 64, velocity: 45 });
    const take = { ...played, strikes: [...played.strikes].sort((x, y) => x.at - y.at) };
    const r = best(take);
    expect(r?.dropped).toEqual([]);
    expect(places(r)).toEqual([0, 1, 2, 3]);
    expect(r?.notes.map(n => n.grace)).toEqual([undefined, { strike: 1, pitch: 64 }, undefined, undefined]);
    const pinned = best(take, { pins: [{ strike: 1, onset: place(0.75) }] });
    expect(places(pinned)).toEqual([0, 0.75, 1, 2, 3]);
    expect(pinned?.notes.every(n => n.grace === undefined)).toBe(true);
  });

  it('two mallets make one chord', () => {
    const r = best(with_({ after: 0.012, pitch: 71, velocity: 85 }));
    expect(places(r)).toEqual([0, 1, 1, 2, 3]);
  });
});
