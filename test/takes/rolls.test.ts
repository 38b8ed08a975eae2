import { describe, expect, it } from 'vitest';
import { fraction, show, toNumber } from '../../core/foundation/fraction.ts';
import { movedStrikes, pageAfter, withPins } from '../../core/piece/rereading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import type { Strike, Take } from '../../core/take/take.ts';
import { seeded } from '../reading/invented.ts';
import { played } from './written.ts';

/** An uneven player: milliseconds of spread about each place. */
const uneven = (seed: number, spread: number): (() => number) => {
  const next = seeded(seed);
  return () => spread * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
};

/** A tune of which some crotchets are rolled for their whole length; so many strokes a second. */
const withRolls = (
  tempo: number,
  strokesASecond: number,
  seed: number,
  click: boolean,
  other?: number,
): Take => {
  const at = [0, 1, 1.5, 2, 3, 4, 5, 6, 7];
  const rolled = new Set([3, 6]);
  const off = uneven(seed, 15);
  const take = played({
    at,
    pitch: [67, 72, 71, 69, 76, 74, 64, 65, 67],
    off: at.map(off),
    tempo,
    click,
  });
  const jitter = uneven(seed + 50, 5);
  const strikes = take.strikes.flatMap((s, i): Strike[] => {
    const count = rolled.has(i) ? Math.floor((60 / tempo) * strokesASecond) : 1;
    return Array.from({ length: count }, (_, k) => ({
      ...s,
      at: s.at + k / strokesASecond + (k === 0 ? 0 : jitter() / 1000),
      pitch: s.pitch + (k % 2 === 1 ? (other ?? 0) : 0),
      velocity: 90 - (k % 2) * 12,
    }));
  });
  return { ...take, strikes };
};

const pageOf = (take: Take): Reading => {
  const [page] = readTake(take);
  if (page === undefined) throw new Error('nothing was read');
  return page;
};
const written = (page: Reading): string[] =>
  page.notes.map(n => `${show(n.onset)}:${show(n.duration)}${n.roll === undefined ? '' : 'r'}`);

const CROTCHETS = [
  '0:1/4',
  '1/4:1/8',
  '3/8:1/8',
  '1/2:1/4r',
  '3/4:1/4',
  '1:1/4',
  '5/4:1/4r',
  '3/2:1/4',
  '7/4:1/4',
];

// 10 to 20 strokes a second, in no time (common practice, no source).
describe('a roll is one note', () => {
  it.each([11, 12, 13.5, 15, 17, 19.5])('to a click, %d strokes a second', rate => {
    for (const tempo of [66, 84, 96, 108])
      expect(written(pageOf(withRolls(tempo, rate, 1, true)))).toEqual(CROTCHETS);
  });

  it.each([11, 13.5, 17])('without a click too, %d strokes a second', rate => {
    const page = pageOf(withRolls(84, rate, 2, false));
    expect(page.notes.map(n => n.roll !== undefined)).toEqual(CROTCHETS.map(n => n.endsWith('r')));
    const from = toNumber(page.notes[0]?.onset ?? fraction(0));
    const scale = toNumber(page.notes[5]?.onset ?? fraction(1)) - from;
    expect(page.notes.map(n => ((toNumber(n.onset) - from) / scale).toFixed(3))).toEqual(
      CROTCHETS.map(n => {
        const [a = 0, b = 1] = (n.split(':')[0] ?? '').split('/').map(Number);
        return (a / b).toFixed(3);
      }),
    );
  });

  it('names every stroke, and the take stays as it was', () => {
    const take = withRolls(96, 12, 3, true);
    const before = JSON.stringify(take);
    const page = pageOf(take);
    const named = page.notes.flatMap(n => n.roll ?? [n.strike]);
    expect(named).toEqual(take.strikes.map((_, i) => i));
    expect(JSON.stringify(take)).toBe(before);
  });

  it('two bars in turn are a double stop that is rolled, written where its first stroke fell', () => {
    for (const other of [4, -5]) {
      const page = pageOf(withRolls(96, 13, 4, true, other));
      const rolled = page.notes.filter(n => n.roll !== undefined);
      expect(rolled.map(n => [show(n.onset), show(n.duration), n.pitch])).toEqual(
        [
          ['1/2', '1/4', 69],
          ['1/2', '1/4', 69 + other],
          ['5/4', '1/4', 64],
          ['5/4', '1/4', 64 + other],
        ].sort((a, b) => toNumber(fr(a[0])) - toNumber(fr(b[0])) || Number(a[2]) - Number(b[2])),
      );
    }
  });

  it('as long as it was rolled: a minim with a rest after it', () => {
    const take = played({ at: [0, 1, 4, 5, 6, 7], pitch: [60, 64, 67, 65, 64, 62], tempo: 90 });
    const roll = Array.from({ length: 15 }, (_, k) => ({
      at: 2 + 2 / 3 + (k + 1) * 0.083,
      pitch: 64,
      velocity: 70,
    }));
    const strikes = [...take.strikes, ...roll].sort((a, b) => a.at - b.at);
    expect(written(pageOf({ ...take, strikes })).slice(0, 3)).toEqual(['0:1/4', '1/4:1/2r', '1:1/4']);
  });

  it('stays one when another note is put elsewhere, and back', () => {
    for (const click of [true, false]) {
      const take = withRolls(96, 12, 5, click);
      const page = pageOf(take);
      const last = page.notes.at(-1);
      if (last === undefined) throw new Error('no last note');
      const onset = { ...last.onset, n: last.onset.n + last.onset.d };
      const hints = withPins({ take, hints: {}, reading: page }, [{ strike: last.strike, onset }]);
      const after = pageAfter(page, true, hints, readTake(take, hints));
      expect(after && movedStrikes(page, after)).toEqual([last.strike]);
      expect(after?.notes.filter(n => n.roll !== undefined)).toHaveLength(2);
      const back = withPins({ take, hints, reading: page }, [{ strike: last.strike, onset: last.onset }]);
      expect(
        pageAfter(page, true, back, readTake(take, back))?.notes.map(n => [n.strike, n.onset, n.roll]),
      ).toEqual(page.notes.map(n => [n.strike, n.onset, n.roll]));
    }
  });
});

const fr = (text: string | number | undefined): { n: number; d: number } => {
  const [n = 0, d = 1] = String(text).split('/').map(Number);
  return { n, d };
};

// Measured repeated notes lie on the grid, as fast as hands strike in time (some 12 a second; common practice, no source).
describe('repeated notes in time stay notes', () => {
  const repeated = (tempo: number, click: boolean, seed: number, other = 0): Take => {
    const at = [0, 1, 2, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 3.75, 4, 5, 6, 7];
    const off = uneven(seed, 9);
    return played({
      at,
      pitch: at.map((x, i) => (x >= 2 && x < 4 ? 69 + (i % 2) * other : 60 + 2 * i)),
      off: at.map(off),
      tempo,
      click,
    });
  };

  it.each([120, 140, 150, 160, 168])('semiquavers at crotchet = %d', tempo => {
    for (const seed of [1, 2, 3])
      for (const other of [0, 3]) {
        const page = pageOf(repeated(tempo, true, seed, other));
        expect(page.notes.every(n => n.roll === undefined)).toBe(true);
        expect(page.notes.map(n => toNumber(n.onset) * 4)).toEqual([
          0, 1, 2, 2.25, 2.5, 2.75, 3, 3.25, 3.5, 3.75, 4, 5, 6, 7,
        ]);
        // Without a click half values are another page: quicker than this they might be demisemiquavers.
        if (tempo <= 150)
          expect(pageOf(repeated(tempo, false, seed, other)).notes.every(n => n.roll === undefined)).toBe(
            true,
          );
      }
  });
});
