import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { show } from '../../core/foundation/fraction.ts';
import { correct, type Edit } from '../../core/piece/edit.ts';
import { gracesBefore, gracesOn } from '../../core/piece/graceEdits.ts';
import { gracesOf, type Reading } from '../../core/reading/model/reading.ts';
import { note, readingOf } from './plainReading.ts';

/** A note, and one with so many grace notes; between them a rest where the first is short. */
const page = (graces: number, first: [number, number]): Reading =>
  readingOf([
    note([0, 1], first, 60, 0),
    {
      ...note([1, 4], [1, 4], 67, graces + 1),
      ...gracesOf(Array.from({ length: graces }, (_, i) => ({ strike: i + 1, pitch: 62 + i }))),
    },
  ]);
const told = (r: Reading): string[] =>
  r.notes.map(
    n =>
      `${show(n.onset)}:${show(n.duration)} ${String(n.pitch)} ${gracesOn(n)
        .map(g => g.strike)
        .join('.')}`,
  );
const anyPage = fc.record({
  graces: fc.integer({ min: 1, max: 3 }),
  first: fc.constantFrom<[number, number]>([1, 4], [1, 8], [1, 16]),
});
const out = (graces: number): Edit => ({ kind: 'ungrace', note: graces + 1 });

describe('grace notes and notes', () => {
  it('are each other: written out and back is the page as it was, and no stroke is lost', () => {
    fc.assert(
      fc.property(anyPage, ({ graces, first }) => {
        const before = page(graces, first);
        const apart = correct(before, [out(graces)]);
        expect(apart.notes.map(n => n.strike)).toEqual(Array.from({ length: graces + 2 }, (_, i) => i));
        expect(apart.notes.every(n => gracesOn(n).length === 0)).toBe(true);
        const from = Array.from({ length: graces }, (_, i) => i + 1);
        expect(told(correct(before, [out(graces), { kind: 'grace', note: graces + 1, from }]))).toEqual(
          told(before),
        );
      }),
    );
  });

  it('a drag is two demisemiquavers before its note; on the first beat they are an upbeat', () => {
    expect(told(correct(page(2, [1, 4]), [out(2)]))).toEqual([
      '0:3/16 60 ',
      '3/16:1/32 62 ',
      '7/32:1/32 63 ',
      '1/4:1/4 67 ',
    ]);
    const first = readingOf([{ ...note([0, 1], [1, 4], 67, 1), grace: { strike: 0, pitch: 65 } }]);
    const apart = correct(first, [out(0)]);
    expect([told(apart), show(apart.upbeat)]).toEqual([['-1/32:1/32 65 ', '0:1/4 67 '], '1/32']);
  });

  it('a note that has one keeps it behind those it is given', () => {
    const flam = { ...note([1, 4], [1, 4], 67, 2), grace: { strike: 1, pitch: 65 } };
    const before = readingOf([note([0, 1], [7, 32], 60, 0), note([7, 32], [1, 32], 64, 3), flam]);
    expect(told(correct(before, [{ kind: 'grace', note: 2, from: [3] }]))).toEqual([
      '0:1/4 60 ',
      '1/4:1/4 67 3.1',
    ]);
  });

  it('where the note before leaves no room they stay', () => {
    const tight = readingOf([
      note([15, 64], [1, 64], 60, 0),
      { ...note([1, 4], [1, 4], 67, 2), grace: { strike: 1, pitch: 65 } },
    ]);
    expect(told(correct(tight, [out(1)]))).toEqual(told(tight));
  });

  it('quick notes just before one may be its grace notes: three at most, alone, soon', () => {
    const row = readingOf(Array.from({ length: 6 }, (_, i) => note([i, 32], [1, 32], 60 + i, i)));
    const last = row.notes[5] ?? note([0, 1], [1, 4], 0, 0);
    const at = (gap: number): { strikes: { at: number; pitch: number; velocity: number }[] } => ({
      strikes: Array.from({ length: 6 }, (_, i) => ({ at: i * gap, pitch: 60, velocity: 80 })),
    });
    expect(gracesBefore(row, at(0.06), last)).toEqual([2, 3, 4]);
    expect(gracesBefore(row, at(0.2), last)).toEqual([]);
    const chord = readingOf([...row.notes, note([4, 32], [1, 32], 70, 6)]);
    expect(gracesBefore(chord, at(0.06), last)).toEqual([]);
  });

  it('move up and down with their note, and go with it when it is deleted', () => {
    const before = page(3, [1, 4]);
    const up = correct(before, [{ kind: 'pitch', note: 4, pitch: 69 }]).notes[1];
    expect(up && gracesOn(up).map(g => g.pitch)).toEqual([64, 65, 66]);
    expect(told(correct(before, [{ kind: 'delete', note: 4 }]))).toEqual(['0:1/2 60 ']);
  });
});
