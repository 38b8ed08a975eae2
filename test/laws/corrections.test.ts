import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equal, type Fraction, toNumber } from '../../core/foundation/fraction.ts';
import { barLength } from '../../core/foundation/metre.ts';
import { likeFigures } from '../../core/piece/likeFigures.ts';
import { corrected as pageOf, newPiece, type Piece } from '../../core/piece/piece.ts';
import {
  type Pin,
  pageAfter,
  reread,
  withoutPins,
  withPins,
  withRepeats,
} from '../../core/piece/rereading.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';
import { anyTake } from './anyTake.ts';
import { place } from '../takes/written.ts';

const FEW = { numRuns: 10, seed: 20261126 };
const MANY = { numRuns: 25, seed: 20261127 };

const firstOf = (take: Take, hints: Hints): Reading => {
  const [first] = readTake(take, hints);
  if (first === undefined) throw new Error('nothing was read');
  return first;
};

const pieceOf = (take: Take): Piece =>
  newPiece(
    { id: 'p', title: 'T', codeName: 'Otter', className: '7B', instrument: 'xylophone', take, hints: {} },
    firstOf(take, {}),
  );

/** As the app follows a correction. */
const corrected = (piece: Piece, pins: readonly Pin[]): Piece => {
  const hints = withPins(piece, pins);
  const next = pageAfter(piece.reading, true, hints, readTake(piece.take, hints));
  if (next === undefined) throw new Error('nothing was read');
  return reread(piece, hints, next);
};

const positions = (reading: Reading): ReadonlyMap<number, Fraction> =>
  new Map(reading.notes.map(n => [n.strike, n.onset]));

/** A take and a note of it put up to three semiquavers earlier or later. */
const takeAndPin = fc
  .record({ take: anyTake, which: fc.nat(), by: fc.constantFrom(-3, -2, -1, 1, 2, 3) })
  .map(({ take, which, by }) => {
    const piece = pieceOf(take);
    const note = piece.reading.notes[which % piece.reading.notes.length];
    if (note === undefined) throw new Error('a page without notes');
    return { piece, note, pin: { strike: note.strike, onset: place(4 * toNumber(note.onset) + by / 4) } };
  });

describe('a correction says one thing', () => {
  it('the beat, the barline, the metre and the key stay', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, pin }) => {
        const after = corrected(piece, [pin]);
        expect(after.reading.metre).toEqual(piece.reading.metre);
        piece.reading.beats.forEach((at, k) => {
          const same = after.reading.beats[k - piece.reading.firstBeat + after.reading.firstBeat];
          if (same !== undefined) expect(same).toBeCloseTo(at, 6);
        });
        expect(after.key).toEqual(piece.key);
        expect(after.reading.notes.find(n => n.strike === pin.strike)?.onset).toEqual(pin.onset);
      }),
      FEW,
    );
  });

  it('what is neither near it, nor the same figure, nor a repeat stays where it was', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, note, pin }) => {
        const before = positions(piece.reading);
        const after = positions(corrected(piece, [pin]).reading);
        const order = [...before.values()].map(toNumber).sort((a, b) => a - b);
        const gaps = (at: Fraction): string => {
          const i = order.indexOf(toNumber(at));
          return [order[i - 1] ?? -9, order[i + 1] ?? 999].map(x => (x - toNumber(at)).toFixed(4)).join();
        };
        for (const [strike, was] of before) {
          const now = after.get(strike);
          if (now === undefined || equal(now, was)) continue;
          const beat = 3 / 8;
          const near = [note.onset, pin.onset].some(at => Math.abs(toNumber(at) - toNumber(was)) < beat);
          const nearLike = piece.reading.notes.some(
            other =>
              Math.abs(toNumber(other.onset) - toNumber(note.onset)) < beat &&
              gaps(other.onset) === gaps(was),
          );
          expect(near || nearLike, `strike ${String(strike)}`).toBe(true);
        }
      }),
      FEW,
    );
  });

  it('a correction and its opposite give the page back', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, note, pin }) => {
        const there = corrected(piece, [pin]);
        const back = corrected(there, [{ strike: note.strike, onset: note.onset }]);
        expect(positions(back.reading)).toEqual(positions(piece.reading));
        const hints = withoutPins(there.hints, [pin.strike]);
        expect(hints).toEqual({});
        expect(firstOf(piece.take, hints)).toEqual(piece.reading);
      }),
      FEW,
    );
  });

  it('the order of two corrections does not matter', () => {
    fc.assert(
      fc.property(takeAndPin, fc.nat(), ({ piece, pin }, which) => {
        const { notes } = piece.reading;
        const other = notes[which % notes.length];
        if (other === undefined || other.strike === pin.strike) return;
        const second = { strike: other.strike, onset: place(4 * toNumber(other.onset) + 1 / 4) };
        const one = corrected(corrected(piece, [pin]), [second]);
        const two = corrected(corrected(piece, [second]), [pin]);
        expect(positions(one.reading)).toEqual(positions(two.reading));
      }),
      FEW,
    );
  });

  it('in a repeated idea the same note of every repeat goes with it, unless it is a beat off', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, pin }) => {
        const all = withRepeats(piece.reading, [pin]);
        const period = (piece.reading.period ?? 0) * toNumber(barLength(piece.reading.metre));
        for (const p of all) {
          const apart = toNumber(p.onset) - toNumber(pin.onset);
          expect(period === 0 ? apart : Math.abs(apart / period - Math.round(apart / period))).toBeLessThan(
            1e-9,
          );
        }
        const far = withRepeats(piece.reading, [{ ...pin, onset: place(4 * toNumber(pin.onset) + 8) }]);
        expect(far).toHaveLength(1);
      }),
      FEW,
    );
  });
});

/** As the app carries a correction everywhere: what was pinned, and the same for every figure like it. */
const everywhere = (
  piece: Piece,
  pin: Pin,
): { readonly own: readonly Pin[]; readonly like: readonly Pin[]; readonly after: Piece } => {
  const once = corrected(piece, withRepeats(piece.reading, [pin]));
  const own = withRepeats(piece.reading, [pin]);
  const taken = new Set(own.map(p => p.strike));
  const like = likeFigures(pageOf(piece), pageOf(once), [pin]).filter(p => !taken.has(p.strike));
  return { own, like, after: corrected(piece, [...own, ...like]) };
};

/** Gaps before and after a position, in semibreves, among all positions of a page; and where it stands in its crotchet. */
const neighbours = (page: Reading, at: Fraction): readonly [string, string, string] => {
  const order = [...new Set(page.notes.map(n => toNumber(n.onset)))].sort((a, b) => a - b);
  const own = toNumber(at);
  const i = order.indexOf(own);
  const gap = (a?: number, b?: number): string =>
    a === undefined || b === undefined ? '' : (b - a).toFixed(4);
  return [gap(order[i - 1], own), gap(own, order[i + 1]), (own - Math.floor(own * 8) / 8).toFixed(4)];
};

describe('everywhere like this', () => {
  it('carries the correction to the same figure and to nothing else', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, note, pin }) => {
        const once = corrected(piece, withRepeats(piece.reading, [pin]));
        const like = likeFigures(pageOf(piece), pageOf(once), [pin]);
        const by = toNumber(pin.onset) - toNumber(note.onset);
        const meant = piece.reading.notes.filter(
          n => Math.abs(toNumber(n.onset) - toNumber(note.onset)) < 0.5,
        );
        for (const p of like) {
          const was = piece.reading.notes.find(n => n.strike === p.strike);
          if (was === undefined) throw new Error('a pin on no note');
          const figure = neighbours(piece.reading, was.onset);
          // Either the note itself or one that made room beside it, each by as much as its model went.
          const models = meant.filter(n => {
            const to = pageOf(once).notes.find(o => o.strike === n.strike)?.onset ?? n.onset;
            const went = n.strike === note.strike ? by : toNumber(to) - toNumber(n.onset);
            return Math.abs(went - (toNumber(p.onset) - toNumber(was.onset))) < 1e-9;
          });
          const alike = models.filter(n =>
            neighbours(piece.reading, n.onset).every(
              (x, k) => x === figure[k] || x === '' || figure[k] === '',
            ),
          );
          expect(alike.length, `strike ${String(p.strike)}`).toBeGreaterThan(0);
          expect(p.strike).not.toBe(note.strike);
        }
      }),
      MANY,
    );
  });

  it('puts each of them where it says, and spoils nothing away from them', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, pin }) => {
        const { own, like, after } = everywhere(piece, pin);
        const now = positions(after.reading);
        const was = positions(piece.reading);
        for (const p of [...own, ...like]) expect(now.get(p.strike)).toEqual(p.onset);
        const beat = 3 / 8;
        const touched = [...own, ...like].flatMap(p => [p.onset, was.get(p.strike) ?? p.onset]).map(toNumber);
        const figures = new Set(
          [...was]
            .filter(([, at]) => touched.some(t => Math.abs(t - toNumber(at)) < beat))
            .map(([, at]) => neighbours(piece.reading, at).slice(0, 2).join()),
        );
        for (const [strike, at] of was) {
          const to = now.get(strike);
          if (to === undefined || equal(to, at)) continue;
          const near = touched.some(t => Math.abs(t - toNumber(at)) < beat);
          const like = figures.has(neighbours(piece.reading, at).slice(0, 2).join());
          expect(near || like, `strike ${String(strike)}`).toBe(true);
        }
      }),
      MANY,
    );
  });

  it('let go again, the page is as it was', () => {
    fc.assert(
      fc.property(takeAndPin, ({ piece, pin }) => {
        const { own, like, after } = everywhere(piece, pin);
        const hints = withoutPins(
          after.hints,
          [...own, ...like].map(p => p.strike),
        );
        expect(hints).toEqual({});
        const back = corrected(
          after,
          [...own, ...like].map(p => ({
            strike: p.strike,
            onset: piece.reading.notes.find(n => n.strike === p.strike)?.onset ?? p.onset,
          })),
        );
        expect(positions(back.reading)).toEqual(positions(piece.reading));
      }),
      MANY,
    );
  });
});
