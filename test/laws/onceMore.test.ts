import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toNumber } from '../../core/foundation/fraction.ts';
import { tactus } from '../../core/foundation/metre.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { readTake } from '../../core/reading/read.ts';
import { playedOn, sameIdea } from '../../core/take/onceMore.ts';
import type { Strike, Take } from '../../core/take/take.ts';
import { anyRhythm } from './anyTake.ts';
import { played } from '../takes/written.ts';

/** A take by somebody uneven, of a tune on at least three bars. */
const anyTune: fc.Arbitrary<{ take: Take; at: readonly number[] }> = fc
  .record({
    at: anyRhythm().filter(at => at.length >= 5),
    pitch: fc.uniqueArray(fc.integer({ min: 60, max: 84 }), { minLength: 5, maxLength: 9 }),
    off: fc.array(fc.integer({ min: -25, max: 25 }), { minLength: 7, maxLength: 11 }),
    tempo: fc.integer({ min: 70, max: 130 }),
    click: fc.boolean(),
  })
  .map(p => ({ take: played(p), at: p.at }));

/** The same strikes some time later, faster or slower, and by other hands. */
const again = (strikes: readonly Strike[], later: number, pace: number, off: readonly number[]): Strike[] =>
  strikes.map((s, i) => ({ ...s, at: later + pace * s.at + (off[i % off.length] ?? 0) / 1000 }));

const firstOf = (take: Take): Reading => {
  const [best] = readTake(take);
  if (best === undefined) throw new Error('nothing was read');
  return best;
};
/** Seconds of a bar of this page. */
const barOf = (page: Reading): number =>
  ((60 / page.tempo) * (page.metre.upper / page.metre.lower)) / toNumber(tactus(page.metre));

const RUNS = { numRuns: 30, seed: 20261127 };

describe('an idea played once more', () => {
  it('is known for the same, later and at another pace', () => {
    fc.assert(
      fc.property(
        anyTune,
        fc.double({ min: 1, max: 200, noNaN: true }),
        fc.double({ min: 0.6, max: 1.7, noNaN: true }),
        ({ take }, later, pace) => {
          const found = sameIdea(take.strikes, again(take.strikes, later, pace, [0]));
          expect(found?.pairs).toEqual(take.strikes.map((_, i) => [i, i]));
          expect([found?.missing, found?.added]).toEqual([[], []]);
          expect(found?.pace).toBeCloseTo(1 / pace, 6);
        },
      ),
      RUNS,
    );
  });

  it('is known for the same by uneven hands, with one note struck on another bar', () => {
    fc.assert(
      fc.property(
        anyTune,
        fc.array(fc.integer({ min: -15, max: 15 }), { minLength: 7, maxLength: 7 }),
        fc.nat(),
        ({ take }, off, which) => {
          const wrong = which % take.strikes.length;
          const other = again(take.strikes, 20, 1.1, off).map((s, i) =>
            i === wrong ? { ...s, pitch: 40 } : s,
          );
          const found = sameIdea(take.strikes, other);
          expect(found?.missing).toEqual([wrong]);
          expect(found?.added).toEqual([wrong]);
        },
      ),
      RUNS,
    );
  });

  it('another idea is said to be another: other bars, or another rhythm on the same bars', () => {
    fc.assert(
      fc.property(anyTune, anyTune, ({ take }, other) => {
        const foreign = other.take.strikes.map(s => ({ ...s, pitch: s.pitch + 30 }));
        expect(sameIdea(take.strikes, foreign)).toBeUndefined();
        // Every other gap three times as long.
        let at = 0;
        const uneven = take.strikes.map((s, i) => {
          at += (s.at - (take.strikes[i - 1]?.at ?? s.at)) * (i % 2 === 0 ? 3 : 1);
          return { ...s, at };
        });
        const found = sameIdea(take.strikes, uneven);
        expect((found?.pairs.length ?? 0) / take.strikes.length).toBeLessThan(1);
      }),
      RUNS,
    );
    expect(sameIdea([], [])).toBeUndefined();
  });

  it('read together it reads as it did alone, and is no less sure', () => {
    let same = 0;
    let surer = 0;
    let all = 0;
    fc.assert(
      fc.property(anyTune, fc.double({ min: 0.8, max: 1.25, noNaN: true }), ({ take }, pace) => {
        const alone = firstOf(take);
        const other = again(take.strikes, 30, pace, [0]);
        const found = sameIdea(take.strikes, other);
        if (found === undefined) throw new Error('not known again');
        const both = playedOn(take, { ...take, id: 'again', strikes: other }, found, barOf(alone));
        expect(both.strikes.slice(0, take.strikes.length)).toEqual(take.strikes);
        const together = firstOf(both);
        const position = (page: Reading): ReadonlyMap<number, string> => {
          const origin = page.notes.find(n => n.strike === 0)?.onset;
          return new Map(
            page.notes
              .filter(n => n.strike < take.strikes.length)
              .map(n => [
                n.strike,
                (toNumber(n.onset) - (origin === undefined ? 0 : toNumber(origin))).toFixed(4),
              ]),
          );
        };
        all++;
        if (JSON.stringify([...position(together)]) === JSON.stringify([...position(alone)])) same++;
        if (together.confidence >= alone.confidence - 0.02) surer++;
      }),
      RUNS,
    );
    // Random rhythms, half of them without a click: what is hardly sure alone may be read otherwise with more to go by.
    expect(same / all).toBeGreaterThan(0.7);
    expect(surer / all).toBeGreaterThan(0.9);
  });

  it('follows after whole spans, when the first has ended, and a click goes on', () => {
    fc.assert(
      fc.property(
        anyTune,
        fc.double({ min: 0.8, max: 1.25, noNaN: true }),
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        ({ take }, pace, span) => {
          const other = again(take.strikes, 30, pace, [0]);
          const found = sameIdea(take.strikes, other);
          if (found === undefined) throw new Error('not known again');
          const both = playedOn(take, { ...take, id: 'again', strikes: other }, found, span);
          const n = take.strikes.length;
          const apart = both.strikes.slice(n).map((s, i) => (s.at - (take.strikes[i]?.at ?? 0)) / span);
          for (const spans of apart) expect(spans).toBeCloseTo(Math.round(apart[0] ?? 0), 5);
          expect(both.strikes[n]?.at).toBeGreaterThan(take.strikes.at(-1)?.at ?? 0);
          const beats = both.click?.beats ?? [];
          expect(beats.slice(0, take.click?.beats.length)).toEqual(take.click?.beats ?? []);
          if (take.click !== undefined) expect(beats.at(-1)).toBeGreaterThan(both.strikes.at(-1)?.at ?? 0);
          expect(beats.every((b, i) => i === 0 || b > (beats[i - 1] ?? b))).toBe(true);
        },
      ),
      RUNS,
    );
  });

  it('a plain tune reads the same with and without a click, and is surer', () => {
    for (const click of [true, false]) {
      const take = played({
        at: [0, 1, 1.5, 2, 3, 4, 5, 6, 7],
        pitch: [72, 74, 76, 77, 76, 79, 74, 71, 72],
        off: [12, -20, 9, 25, -14],
        click,
      });
      const other = again(take.strikes, 60, 1.1, [-10, 15, -5, -18, 8, 11, -3]);
      const found = sameIdea(take.strikes, other);
      if (found === undefined) throw new Error('not known again');
      const alone = firstOf(take);
      const both = firstOf(playedOn(take, { ...take, strikes: other }, found, barOf(alone)));
      expect(both.notes.slice(0, 9).map(n => n.onset)).toEqual(alone.notes.map(n => n.onset));
      expect(both.confidence).toBeGreaterThanOrEqual(alone.confidence - 0.005);
      expect(both.period).toBe(2);
    }
  });

  it('one playing is known again in a take of several, and hardly any rhythm on one bar is another', () => {
    const idea = [0, 0.5, 1.25, 2, 3];
    const take = played({
      at: [0, 4, 8].flatMap(bar => idea.map(x => bar + x)),
      pitch: [72, 74, 76, 79, 76],
    });
    const found = sameIdea(take.strikes, again(take.strikes.slice(5, 10), 9, 1.2, [0]));
    expect([found?.pairs.length, found?.missing, found?.added]).toEqual([5, [], []]);
    const drum = played({ at: [0, 0.5, 1.25, 2, 3, 3.5, 4, 5.25, 6], pitch: [72] });
    const other = played({ at: [0, 1, 1.5, 3, 3.25, 4.5, 5, 5.5, 7], pitch: [72] });
    expect(sameIdea(drum.strikes, other.strikes)).toBeUndefined();
  });
});
