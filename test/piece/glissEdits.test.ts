import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, fraction, show } from '../../core/foundation/fraction.ts';
import { correct, type Edit } from '../../core/piece/edit.ts';
import { lineAround } from '../../core/piece/glissEdits.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { note, readingOf } from './plainReading.ts';

const WHITE = [60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79, 81, 83, 84];
const count = (n: number, from = 0): number[] => Array.from({ length: n }, (_, i) => from + i);

/** A crotchet, a glissando of so many strokes up or down, and a crotchet to which it leads or does not. */
const page = (
  strokes: number,
  duration: [number, number],
  isUp: boolean,
  isLed: boolean,
  at: [number, number] = [1, 4],
): Reading => {
  const bars = isUp ? WHITE : [...WHITE].reverse();
  const end = add(fraction(...at), fraction(...duration));
  const own = bars.slice(0, strokes).map((pitch, i) => ({ strike: i + 1, pitch }));
  const last = bars[isLed ? strokes : strokes - 1] ?? 60;
  return readingOf([
    note([0, 1], at, 55, 0),
    { ...note(at, duration, bars[0] ?? 60, 1), gliss: { strokes: own, to: last } },
    note([end.n, end.d], [1, 4], isLed ? last : 55, strokes + 1),
  ]);
};
const told = (r: Reading): string[] =>
  r.notes.map(n => {
    const line =
      n.gliss === undefined
        ? ''
        : ` ${n.gliss.strokes.map(s => `${String(s.strike)}:${String(s.pitch)}`).join('.')} to ${String(n.gliss.to)}`;
    return `${show(n.onset)}:${show(n.duration)} ${String(n.pitch)} ${String(n.strike)}${line}`;
  });
const out: Edit = { kind: 'ungliss', note: 1 };
const back = (strokes: number, isLed: boolean): Edit => ({
  kind: 'gliss',
  note: 1,
  more: count(strokes - 1, 2),
  ...(isLed ? { into: strokes + 1 } : {}),
});

describe('a glissando and its strokes', () => {
  it('are each other: written out and back is the page as it was, and no stroke is lost', () => {
    fc.assert(
      fc.property(
        fc.record({
          strokes: fc.integer({ min: 2, max: 12 }),
          duration: fc.constantFrom<[number, number]>([1, 4], [3, 8], [1, 2]),
          at: fc.constantFrom<[number, number]>([1, 4], [1, 8], [3, 16], [1, 6]),
          isUp: fc.boolean(),
          isLed: fc.boolean(),
        }),
        ({ strokes, duration, at, isUp, isLed }) => {
          const before = page(strokes, duration, isUp, isLed, at);
          const apart = correct(before, [out]);
          expect(apart.notes.map(n => n.strike)).toEqual(count(strokes + 2));
          expect(apart.notes.every(n => n.gliss === undefined)).toBe(true);
          const together = [out, back(strokes, isLed)];
          expect(told(correct(before, together))).toEqual(told(before));
          // And the other way: notes gathered and written out are those notes.
          expect(told(correct(apart, [back(strokes, isLed), out]))).toEqual(told(apart));
        },
      ),
    );
  });

  it('between two notes is a line alone, and taken from them again', () => {
    const two = readingOf([note([0, 1], [1, 4], 60, 0), note([1, 4], [1, 4], 72, 1)]);
    const made: Edit = { kind: 'gliss', note: 0, more: [], into: 1 };
    expect(told(correct(two, [made]))).toEqual(['0:1/4 60 0 0:60 to 72', '1/4:1/4 72 1']);
    expect(told(correct(two, [made, { kind: 'ungliss', note: 0 }]))).toEqual(told(two));
  });

  it('more than can be written stay a glissando', () => {
    const before = page(14, [1, 8], true, false);
    expect(told(correct(before, [out]))).toEqual(told(before));
  });

  it('notes that are no line, or do not lead there, change nothing', () => {
    const of = (...pitches: readonly number[]): Reading =>
      readingOf(pitches.map((p, i) => note([i, 16], [1, 16], p, i)));
    const gather: Edit = { kind: 'gliss', note: 0, more: [1, 2] };
    for (const r of [of(60, 62, 61), of(60, 60, 62), of(64, 62, 65)])
      expect(correct(r, [gather]).notes).toEqual(r.notes);
    const r = of(60, 62, 64, 65);
    for (const bad of [
      { kind: 'gliss', note: 9, more: [0] },
      { kind: 'gliss', note: 0, more: [] },
      // Not where they end, and not in their direction.
      { kind: 'gliss', note: 0, more: [], into: 3 },
      { kind: 'gliss', note: 1, more: [2], into: 0 },
      { kind: 'ungliss', note: 0 },
    ] satisfies Edit[])
      expect(correct(r, [bad]).notes, JSON.stringify(bad)).toEqual(r.notes);
    const rolled = readingOf(r.notes.map((n, i) => (i === 1 ? { ...n, roll: [1] } : n)));
    expect(correct(rolled, [gather]).notes).toEqual(rolled.notes);
  });

  it('leads on to its note when that is put on another bar, and is deleted as one', () => {
    const before = page(8, [1, 4], true, true);
    const moved = correct(before, [{ kind: 'pitch', note: 9, pitch: 77 }]);
    expect([moved.notes[1]?.gliss?.to, moved.notes[2]?.pitch]).toEqual([77, 77]);
    // Onto the bar where the line begins it cannot lead: there is no line.
    const same = correct(before, [{ kind: 'pitch', note: 9, pitch: 60 }]);
    expect(same.notes[1]?.gliss?.to).toBe(74);
    // A line that ends on no note stays as it is.
    const open = correct(page(8, [1, 4], true, false), [{ kind: 'pitch', note: 9, pitch: 50 }]);
    expect(open.notes[1]?.gliss?.to).toBe(72);
    expect(correct(before, [{ kind: 'delete', note: 1 }]).notes.map(n => n.strike)).toEqual([0, 9]);
    // Written out after its note was put on another bar, it begins there.
    const lower = correct(page(4, [1, 4], true, false), [{ kind: 'pitch', note: 1, pitch: 59 }, out]);
    expect(lower.notes.slice(1, -1).map(n => n.pitch)).toEqual([59, 62, 64, 65]);
  });

  it('grace notes stay before the first stroke alone', () => {
    const grace = { strike: 20, pitch: 60 };
    const before = page(4, [1, 4], true, false);
    const graced = { ...before, notes: before.notes.map(n => (n.strike === 1 ? { ...n, grace } : n)) };
    expect(correct(graced, [out]).notes.map(n => n.grace)).toEqual([
      undefined,
      grace,
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
  });
});

describe('the line around a note', () => {
  const around = (pitches: readonly number[], gap: number, i: number): readonly number[] => {
    const r = readingOf(pitches.map((p, k) => note([k, 32], [1, 32], p, k)));
    const strikes = pitches.map((pitch, k) => ({ at: k * gap, pitch, velocity: 80 }));
    return lineAround(r, { strikes }, r.notes[i] ?? note([0, 1], [1, 4], 0, 0));
  };
  it('is the same from whichever of its notes one asks, up or down', () => {
    for (const i of [1, 2, 3, 4]) {
      expect(around([72, 60, 62, 64, 65, 72], 0.05, i)).toEqual([1, 2, 3, 4]);
      expect(around([55, 65, 64, 62, 60, 55], 0.05, i)).toEqual([1, 2, 3, 4]);
    }
    expect(around([72, 60, 62, 64], 0.05, 0)).toEqual([0]);
  });
  it('not what is struck slowly', () => {
    expect(around([60, 62, 64, 65], 0.15, 1)).toEqual([1]);
  });
});
