import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import type { ReadNote } from '../../core/reading/model/reading.ts';
import { strikesOnPage } from '../../renderer/views/write/strikesOnPage.ts';
import { pieceOf, SCALE, takeOf } from './pieces.ts';

describe('strikes on the systems of a page', () => {
  it('stand each on one system, where its note stands, whatever the systems', () => {
    const { take, reading } = pieceOf();
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 16 }), { minLength: 1, maxLength: 6 }), ends => {
        const systems = ends.sort((a, b) => a - b).map(eighths => ({ to: eighths / 8 }));
        const rows = strikesOnPage(take, reading, systems);
        // Those after them all belong to systems that are yet to be laid out.
        const last = systems.at(-1)?.to ?? NaN;
        expect(rows.flat().map(one => one.strike)).toEqual(
          reading.notes.filter(n => n.onset.n / n.onset.d < last).map(n => n.strike),
        );
        rows.forEach((row, r) => {
          for (const { note } of row) {
            const at = note === undefined ? NaN : note.onset.n / note.onset.d;
            expect(r).toBe(systems.findIndex(system => at < system.to));
          }
        });
      }),
    );
  });

  it('a stroke of a roll leads to its note, a bounce to none, and a grace stroke has no mark', () => {
    const { reading } = pieceOf();
    const [first, second] = reading.notes;
    if (first === undefined || second === undefined) throw new Error('two notes');
    const note = (of: ReadNote, more: Partial<ReadNote>): ReadNote => ({ ...of, ...more });
    const notes = [
      note(first, { strike: 0, roll: [0, 1, 2] }),
      note(second, { strike: 4, grace: { strike: 3, pitch: 74 } }),
    ];
    const take = takeOf('marks', [0, 0.1, 0.2, 0.9, 1, 5], [72, 72, 72, 74, 74, 76], 2, metre(4, 4));
    const rows = strikesOnPage(take, { ...reading, notes }, [{ to: 1 }, { to: 2 }]);
    expect(rows.map(row => row.map(one => [one.strike, one.note?.strike]))).toEqual([
      [
        [0, 0],
        [1, 0],
        [2, 0],
        [4, 4],
      ],
      [[5, undefined]],
    ]);
    // A beat is a quarter of a semibreve: where the mallet fell, not where the note is written.
    expect(rows[0]?.[1]?.place).toBeCloseTo(0.025, 9);
    expect(strikesOnPage(SCALE, reading, [])).toEqual([]);
    // While only the first system is laid out, what comes after it has no place yet; after the last note all has.
    expect(
      strikesOnPage(take, { ...reading, notes }, [{ to: 0.2 }])
        .flat()
        .map(s => s.strike),
    ).toEqual([0, 1, 2]);
    // After the last note there is nothing to come: a bounce there stands on the last system.
    const struck = strikesOnPage(take, { ...reading, notes }, [{ to: 1 }]).flat();
    expect(struck.map(s => s.strike)).toEqual([0, 1, 2, 4, 5]);
  });
});
