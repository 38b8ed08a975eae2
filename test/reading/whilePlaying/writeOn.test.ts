import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { beatLengths, metre, tactus } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import type { WrittenSoFar } from '../../../core/reading/whilePlaying/soFar.ts';
import { readsFrom, strikesFrom } from '../../../core/reading/whilePlaying/window.ts';
import { writeOn } from '../../../core/reading/whilePlaying/writeOn.ts';
import { cleanTake } from '../../../core/take/clean.ts';
import type { Strike, Take } from '../../../core/take/take.ts';
import { anyTake } from '../../laws/anyTake.ts';
import { played, places, written } from '../../takes/written.ts';
import { inventedTakes } from '../invented.ts';
import { asPlayed, heardAt, lastShown, nameOf, shownOf, steadinessOf } from './asPlayed.ts';

const clicked = anyTake.filter(take => take.click !== undefined);
/** About what a steady player does; worked by hand, no source. */
const HAND = [12, -9, 17, -14, 6, -18, 10, -3, 20, -12];
const lastOf = (take: Take): WrittenSoFar | undefined => asPlayed(take).at(-1)?.so;

describe('to a click', () => {
  it.each([
    ['quavers and crotchets', { at: [0, 0.5, 1, 2, 3, 3.5, 4, 5, 6, 6.5, 7] }],
    ['an upbeat', { at: [-1, 0, 1, 2, 3, 4, 5, 6, 7] }],
    ['a dotted quaver and a semiquaver', { at: [0, 0.75, 1, 2, 2.75, 3, 4, 5, 6, 7] }],
    ['6/8', { at: [0, 1, 1.5, 2.5, 3, 3.5, 4, 4.5, 5.5], metre: metre(6, 8) }],
    ['7/8', { at: [0, 1, 2, 2.5, 3, 3.5, 4.5, 5.5, 6.5], metre: metre(7, 8) }],
    ['two bars of silence', { at: [0, 1, 2, 3, 12, 13, 14, 15] }],
    ['swung quavers', { at: [0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 4.5, 5, 5.5, 6, 7], swing: 2 / 3 }],
  ])('%s are written as they are read in the end', (_, plain) => {
    const take = played({ ...plain, off: HAND });
    expect(lastShown(take, asPlayed(take))).toEqual(plain.at);
    expect(lastShown(take, asPlayed(take))).toEqual(places(readTake(take)[0]));
  });

  it('the lateness of the device is taken off', () => {
    const at = [0, 0.5, 1, 2, 3, 3.5, 4, 5];
    const late = played({ at, off: at.map(() => 90) });
    expect(lastShown(late, asPlayed({ ...late, latency: 90 }))).not.toEqual(at);
    const known = { ...late, latency: 90 };
    expect(lastShown(known, asPlayed(known))).toEqual(at);
  });

  it('a bounce is left out, a flam is a grace note, two mallets are a chord', () => {
    const take = played({ at: [0, 1, 2, 3, 4], pitch: [60, 64, 67, 60, 62] });
    const [, second, third, fourth] = take.strikes;
    if (second === undefined || third === undefined || fourth === undefined) throw new Error('too few');
    const strikes: Strike[] = [
      ...take.strikes,
      { ...second, at: second.at + 0.05, velocity: 20 },
      { ...third, at: third.at - 0.035, velocity: 45 },
      { ...fourth, at: fourth.at + 0.012, pitch: 72 },
    ].sort((a, b) => a.at - b.at);
    const so = lastOf({ ...take, strikes });
    expect(so?.moments.map(m => [m.tick / 48, m.struck.map(s => s.pitch), m.struck[0]?.graces?.[0]])).toEqual(
      [
        [0, [60], undefined],
        [1, [64], undefined],
        [2, [67], 67],
        [3, [60, 72], undefined],
        [4, [62], undefined],
      ],
    );
  });

  it('what fell a beat ago or earlier is always shown', () => {
    fc.assert(
      fc.property(clicked, take => {
        const { metre: m, beats } = take.click ?? { metre: metre(4, 4), beats: [] };
        const crotchet = ((beats[1] ?? 1) - (beats[0] ?? 0)) / (4 * toNumber(tactus(m)));
        const longest = 4 * crotchet * Math.max(...beatLengths(m).map(toNumber));
        const { dropped, graces } = cleanTake(take);
        const noNotes = new Set([...dropped, ...[...graces.values()].flat()]);
        for (const { heard, so } of asPlayed(take)) {
          if (heard.click === undefined) continue;
          const shown = shownOf(so);
          const missing = heard.strikes.filter(
            // Players are early by a semiquaver at most: such a strike is shown with the beat it was meant for.
            (s, i) =>
              s.at < heard.now - longest - crotchet / 4 &&
              !noNotes.has(i) &&
              !shown.has(nameOf(s.at, s.pitch)),
          );
          expect(missing).toEqual([]);
        }
      }),
      { numRuns: 10, seed: 20261127 },
    );
  });

  it('hardly anything that was shown changes, and most of it stands where it does in the end', () => {
    let [shown, changed, alike, all] = [0, 0, 0, 0];
    for (const { take } of inventedTakes(20, 20, true)) {
      const looks = asPlayed(take);
      const steady = steadinessOf(looks);
      shown += steady.shown;
      changed += steady.changed;
      const final = readTake(take)[0];
      const at = new Map(final?.notes.map(n => [n.strike, (4 * n.onset.n) / n.onset.d]));
      lastShown(take, looks).forEach((x, i) => {
        if (x === undefined) return;
        all++;
        if (x === at.get(i)) alike++;
      });
    }
    expect(shown).toBeGreaterThan(200);
    expect(changed / shown).toBeLessThan(0.005);
    expect(alike / all).toBeGreaterThan(0.96);
  });
});

describe('without a click', () => {
  it('nothing is shown before the beat is sure, and then mostly on the right beat', () => {
    let [begun, right, changed, shown] = [0, 0, 0, 0];
    const takes = inventedTakes(20, 12, false);
    for (const { take, at } of takes) {
      const looks = asPlayed(take);
      const first = looks.find(l => l.so.beat !== undefined);
      if (first === undefined) continue;
      begun++;
      expect(first.heard.strikes.length).toBeGreaterThanOrEqual(8);
      const steady = steadinessOf(looks);
      changed += steady.changed;
      shown += steady.shown;
      // Half or double values are the same beat; so is any barline.
      const found = lastShown(take, looks);
      const alike = [0.5, 1, 2].some(scale => {
        const shifts = found.flatMap((x, i) => (x === undefined ? [] : [x - scale * (at[i] ?? 0)]));
        return shifts.every(s => Math.abs(s - (shifts[0] ?? 0)) < 1e-9);
      });
      if (alike) right++;
    }
    expect(begun / takes.length).toBeGreaterThan(0.4);
    expect(right / begun).toBeGreaterThan(0.7);
    expect(changed / shown).toBeLessThan(0.01);
  });

  it('a beat that is found is followed while it grows slower', () => {
    const at = Array.from({ length: 12 }, (_, b) => [
      b * 4,
      b * 4 + 1,
      b * 4 + 1.5,
      b * 4 + 2,
      b * 4 + 3,
    ]).flat();
    const plain = played({ at, click: false, off: HAND.map(x => x / 2), pitch: [60, 64, 65, 67, 62] });
    // A fifth slower by the end, little by little.
    const take = { ...plain, strikes: plain.strikes.map(s => ({ ...s, at: s.at + 0.003 * s.at ** 2 })) };
    const found = lastShown(take, asPlayed(take));
    const from = found.findIndex(x => x !== undefined);
    const shift = (found[from] ?? 0) - (at[from] ?? 0);
    expect(found.slice(from).map(x => (x === undefined ? x : x - shift))).toEqual(at.slice(from));
  });
});

describe('laws', () => {
  it('writing while somebody plays changes nothing of what is read in the end', () => {
    fc.assert(
      fc.property(anyTake, take => {
        const before = readTake(take);
        asPlayed(take);
        expect(readTake(take)).toEqual(before);
      }),
      { numRuns: 5, seed: 1 },
    );
  });

  it('the same question has the same answer, whatever was written between', () => {
    fc.assert(
      fc.property(anyTake, anyTake, (take, other) => {
        const looks = asPlayed(take);
        asPlayed(other);
        looks.forEach(({ heard, so }, i) => {
          expect(writeOn(looks[i - 1]?.so, heard)).toEqual(so);
        });
      }),
      { numRuns: 4, seed: 2 },
    );
  });

  it('strikes before `readsFrom` may be left out', () => {
    const only: typeof writeOn = (before, heard) => {
      const strikes = strikesFrom(heard.strikes, readsFrom(before));
      return writeOn(before, { ...heard, strikes });
    };
    fc.assert(
      fc.property(anyTake, take => {
        expect(asPlayed(take, only).at(-1)?.so).toEqual(asPlayed(take).at(-1)?.so);
      }),
      { numRuns: 3, seed: 3 },
    );
  });

  it('where the thread answers only each third strike nothing is left out', () => {
    const at = Array.from({ length: 10 }, (_, b) => [
      b * 4,
      b * 4 + 1,
      b * 4 + 1.5,
      b * 4 + 2,
      b * 4 + 3,
    ]).flat();
    const take = played({ at: at.slice(0, 48), off: HAND });
    expect(lastShown(take, asPlayed(take, writeOn, 3))).toEqual(at.slice(0, 48));
    // Five bars at once.
    expect(lastShown(take, asPlayed(take, writeOn, 24))).toEqual(at.slice(0, 48));
  });

  it('another phrase, another click or another lateness begins anew', () => {
    const take = played({ at: [0, 1, 2, 3, 4, 5, 6, 7], off: HAND });
    const so = lastOf(take);
    const heard = heardAt(take, 9);
    expect(so?.moments).toHaveLength(8);
    const late = take.strikes.slice(-1);
    expect(writeOn(so, { ...heard, since: late[0]?.at ?? 0, strikes: late }).moments).toHaveLength(1);
    const { click: _, ...without } = heard;
    expect(writeOn(so, without).beat?.click).toBeUndefined();
    expect(writeOn(so, { ...heard, latency: 30 }).latency).toBe(30);
    const other = { metre: metre(3, 4), beats: (take.click?.beats ?? []).map(b => b + 0.1) };
    expect(writeOn(so, { ...heard, click: other }).beat?.metre.upper).toBe(3);
  });

  it('the work of one strike does not grow with the phrase', () => {
    const bar = [0, 0.5, 1, 2, 2.75, 3];
    const workOf = (bars: number, click: boolean): { reads: number; kept: number } => {
      const at = Array.from({ length: bars }, (_, b) => bar.map(x => 4 * b + x)).flat();
      const take = played({ at, off: HAND, click });
      const looks = asPlayed(take);
      const last = looks.at(-1);
      if (last === undefined) throw new Error('nothing was written');
      let reads = 0;
      const strikes = new Proxy(last.heard.strikes, {
        get: (all, name): unknown => {
          if (typeof name === 'string' && /^\d+$/.test(name)) reads++;
          return Reflect.get(all, name) as unknown;
        },
      });
      const so = writeOn(looks.at(-2)?.so, { ...last.heard, strikes });
      return { reads, kept: so.moments.length + (so.beat?.beats.length ?? 0) };
    };
    for (const click of [true, false]) {
      const [short, long] = [workOf(16, click), workOf(40, click)];
      expect(short.reads).toBeGreaterThan(0);
      expect(long.reads).toBeLessThanOrEqual(short.reads + 6);
      expect(long.kept).toBeLessThanOrEqual(150);
    }
  });
});

describe('the page so far', () => {
  it('goes on swinging where plain crotchets follow', () => {
    const swung = [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 7];
    const at = [...swung, ...Array.from({ length: 20 }, (_, i) => 8 + i)];
    const so = lastOf(played({ at, swing: 2 / 3, tempo: 120 }));
    expect((so === undefined ? undefined : pageSoFar(so))?.swing?.ratio).toBeGreaterThan(1.2);
  });

  it('has the last bars, counted from the oldest, with lengths; nothing before there is something', () => {
    const at = Array.from({ length: 12 }, (_, b) => [4 * b, 4 * b + 1.5]).flat();
    const take = played({ at, off: HAND });
    const so = lastOf(take);
    const page = so === undefined ? undefined : pageSoFar(so);
    expect(places(page).slice(0, 4)).toEqual([0, 1.5, 4, 5.5]);
    expect(written(page).slice(0, 3)).toEqual([1.5, 0.5, 1.5]);
    expect(page?.notes.length).toBeLessThan(at.length);
    expect(page?.notes.length).toBeGreaterThanOrEqual(14);
    expect(pageSoFar(writeOn(undefined, { since: 0, strikes: [], latency: 0, now: 1 }))).toBeUndefined();
  });

  it('keeps an upbeat, and says how it swings', () => {
    const so = lastOf(played({ at: [-1, 0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 4.5, 5], swing: 2 / 3, tempo: 120 }));
    const page = so === undefined ? undefined : pageSoFar(so);
    expect(page?.upbeat).toEqual({ n: 1, d: 4 });
    expect(page?.swing?.ratio).toBeGreaterThan(1.2);
    expect(places(page)[0]).toBe(-1);
  });
});
