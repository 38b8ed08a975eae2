import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, compare, fraction, show, toNumber, ZERO } from '../../core/foundation/fraction.ts';
import { correct, type Edit } from '../../core/piece/edit.ts';
import { gracesOn } from '../../core/piece/graceEdits.ts';
import { strokesAround, strokesOfRoll } from '../../core/piece/rollEdits.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { engravePart } from '../../core/score/engrave.ts';
import { key } from '../../core/foundation/key.ts';
import { notesOfReading } from '../../core/score/fromReading.ts';
import { note, readingOf } from './plainReading.ts';

const count = (n: number, from = 0, by = 1): number[] => Array.from({ length: n }, (_, i) => from + i * by);

/** A crotchet, a note rolled on one bar or two, and a crotchet. */
const page = (
  strokes: number,
  duration: [number, number],
  two: boolean,
  at: [number, number] = [1, 4],
): Reading => {
  const own = count(strokes, 1);
  const of = (rest: number): number[] => own.filter((_, i) => !two || i % 2 === rest);
  const end = add(fraction(...at), fraction(...duration));
  return readingOf([
    note([0, 1], at, 60, 0),
    { ...note(at, duration, 67, 1), roll: of(0) },
    ...(two ? [{ ...note(at, duration, 71, 2), roll: of(1) }] : []),
    note([end.n, end.d], [1, 4], 62, strokes + 1),
  ]);
};
const told = (r: Reading): string[] =>
  r.notes.map(
    n =>
      `${show(n.onset)}:${show(n.duration)} ${String(n.pitch)} ${String(n.strike)} ${(n.roll ?? []).join('.')}`,
  );
const out: Edit = { kind: 'unroll', note: 1 };
const back = (strokes: number): Edit => ({ kind: 'roll', note: 1, more: count(strokes - 1, 2) });

const anyRoll = fc.record({
  strokes: fc.integer({ min: 4, max: 18 }),
  duration: fc.constantFrom<[number, number]>([3, 8], [1, 2], [1, 1]),
  two: fc.boolean(),
  at: fc.constantFrom<[number, number]>([1, 4], [1, 8], [3, 16], [1, 6], [1, 12]),
});

describe('a roll and its strokes', () => {
  it('are each other: written out and back is the page as it was, and no stroke is lost', () => {
    fc.assert(
      fc.property(anyRoll, ({ strokes, duration, two, at }) => {
        const before = page(strokes, duration, two, at);
        const apart = correct(before, [out]);
        expect(apart.notes.map(n => n.strike)).toEqual(count(strokes + 2));
        expect(apart.notes.every(n => n.roll === undefined)).toBe(true);
        expect(told(correct(before, [out, back(strokes)]))).toEqual(told(before));
      }),
    );
  });

  it('the strokes fill the note, in order, none longer than twice another, and can be written', () => {
    fc.assert(
      fc.property(anyRoll, ({ strokes, duration, two, at }) => {
        const before = page(strokes, duration, two, at);
        const apart = correct(before, [out]).notes.slice(1, -1);
        const total = apart.reduce((so, n) => add(so, n.duration), ZERO);
        expect(show(total)).toBe(show(fraction(...duration)));
        apart.forEach((n, i) => {
          if (i > 0) expect(compare(apart[i - 1]?.onset ?? ZERO, n.onset)).toBeLessThan(0);
          expect(n.pitch).toBe(two && i % 2 === 1 ? 71 : 67);
        });
        const lengths = apart.map(n => toNumber(n.duration));
        expect(Math.max(...lengths)).toBeLessThanOrEqual(2 * Math.min(...lengths) + 1e-9);
        const bars = engravePart(
          { metre: before.metre, key: key('C'), upbeat: ZERO, bars: 3 },
          notesOfReading(correct(before, [out]), key('C')),
        );
        const struck = bars.flatMap(b => b.symbols.filter(s => s.pitches.length > 0 && !s.tiedFrom));
        expect(struck).toHaveLength(strokes + 2);
      }),
    );
  });

  it('eight in a crotchet are demisemiquavers, six sextuplets, four semiquavers', () => {
    const values = (n: number): string[] =>
      (
        strokesOfRoll(
          page(n, [1, 4], false),
          page(n, [1, 4], false).notes[1] ?? note([0, 1], [1, 4], 0, 0),
        ) ?? []
      ).map(s => show(s.duration));
    expect(new Set(values(8))).toEqual(new Set(['1/32']));
    expect(new Set(values(6))).toEqual(new Set(['1/24']));
    expect(new Set(values(4))).toEqual(new Set(['1/16']));
    expect(values(7)).toEqual([...count(6).map(() => '1/32'), '1/16']);
  });

  it('a roll and a note after it become one roll that names them all', () => {
    const before = page(4, [1, 4], false);
    const longer = readingOf([...before.notes.slice(0, 2), note([1, 2], [1, 8], 67, 5)]);
    const one = correct(longer, [{ kind: 'roll', note: 1, more: [5] }]).notes[1];
    expect([one?.roll, one && show(one.duration)]).toEqual([[1, 2, 3, 4, 5], '3/8']);
  });

  it('more than can be written stay a roll', () => {
    const before = page(20, [1, 4], false);
    expect(told(correct(before, [out]))).toEqual(told(before));
  });

  it('notes on three bars, and notes that are not there, change nothing', () => {
    const before = readingOf([60, 62, 64].map((p, i) => note([i, 16], [1, 16], p, i)));
    expect(correct(before, [{ kind: 'roll', note: 0, more: [1, 2] }]).notes).toEqual(before.notes);
    expect(correct(before, [{ kind: 'roll', note: 9, more: [0] }]).notes).toEqual(before.notes);
    expect(correct(before, [{ kind: 'unroll', note: 0 }]).notes).toEqual(before.notes);
  });

  it('a rolled note moves, changes its pitch and is deleted as one', () => {
    const before = page(8, [1, 4], false);
    const edits: Edit[] = [
      { kind: 'pitch', note: 1, pitch: 69 },
      { kind: 'move', note: 1, onset: fraction(3, 8) },
    ];
    expect(told(correct(before, edits))[1]).toBe('3/8:1/8 69 1 1.2.3.4.5.6.7.8');
    expect(correct(before, [{ kind: 'delete', note: 1 }]).notes.map(n => n.strike)).toEqual([0, 9]);
  });
});

describe('the strokes around a note', () => {
  const row = (...pitches: readonly number[]): Reading =>
    readingOf(pitches.map((p, i) => note([i, 16], [1, 16], p, i)));
  const take = (
    gap: number,
    many: number,
  ): { strikes: { at: number; pitch: number; velocity: number }[] } => ({
    strikes: count(many).map(i => ({ at: i * gap, pitch: 0, velocity: 80 })),
  });
  const around = (r: Reading, gap: number, i: number): readonly number[] =>
    strokesAround(r, take(gap, r.notes.length), r.notes[i] ?? note([0, 1], [1, 4], 0, 0));

  it('are those on the same bar, from whichever of them one asks', () => {
    const r = row(60, 64, 64, 64, 64, 62);
    for (const i of [1, 2, 3, 4]) expect(around(r, 0.09, i)).toEqual([1, 2, 3, 4]);
    expect(around(r, 0.09, 0)).toEqual([0]);
  });

  it('or on two bars in turn, where they go on for long', () => {
    const r = row(60, 64, 67, 64, 67, 64, 67, 62);
    for (const i of [1, 2, 5, 6]) expect(around(r, 0.09, i)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(around(row(64, 67, 64, 67), 0.09, 1)).toEqual([1]);
  });

  it('not what is struck slowly', () => {
    expect(around(row(64, 64, 64, 64), 0.2, 1)).toEqual([1]);
  });
});

describe('what leads to a roll, or lies within', () => {
  const ruff = [
    { strike: 0, pitch: 62 },
    { strike: 1, pitch: 62 },
  ] as const;

  it('grace notes stand before the first stroke alone when it is written out', () => {
    const rolled = { ...note([0, 1], [1, 4], 60, 2), roll: count(4, 2), grace: ruff[1], ruff: [ruff[0]] };
    const { notes } = correct(readingOf([rolled]), [{ kind: 'unroll', note: 2 }]);
    expect(notes.map(gracesOn)).toEqual([ruff, [], [], []]);
    expect(notes.map(n => n.ruff)).toEqual([[ruff[0]], undefined, undefined, undefined]);
  });

  it('a flam within is one more stroke of the roll, and comes back when it is written out', () => {
    const flam = { ...note([1, 8], [1, 8], 60, 2), grace: { strike: 1, pitch: 60 } };
    const flat = readingOf([note([0, 1], [1, 8], 60, 0), flam, note([1, 4], [1, 8], 60, 3)]);
    const rolled = correct(flat, [{ kind: 'roll', note: 0, more: [2, 3] }]);
    expect(rolled.notes.map(n => n.roll)).toEqual([[0, 1, 2, 3]]);
    expect(correct(rolled, [{ kind: 'unroll', note: 0 }]).notes.map(n => n.strike)).toEqual([0, 1, 2, 3]);
  });
});
