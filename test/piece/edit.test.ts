import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, fraction, less, show } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { correct, type Edit } from '../../core/piece/edit.ts';
import { record, redo, startHistory, undo } from '../../core/piece/history.ts';
import { likelyMotif, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { key } from '../../core/foundation/key.ts';
import type { Reading } from '../../core/reading/model/reading.ts';

/** Quavers and a crotchet: places and lengths in 16ths of a semibreve. */
const reading: Reading = {
  metre: metre(4, 4),
  tempo: 92,
  upbeat: fraction(0),
  grid: 'automatic',
  dropped: [],
  misfit: 0,
  confidence: 0.9,
  reason: 'quavers',
  beats: [0, 0.65, 1.3],
  firstBeat: 0,
  notes: [
    [0, 2, 72],
    [2, 2, 76],
    [4, 4, 79],
    [12, 4, 76],
  ].map(([onset = 0, duration = 1, pitch = 60], strike) => ({
    onset: fraction(onset, 16),
    duration: fraction(duration, 16),
    pitch,
    strike,
    doubt: strike === 1 ? 0.4 : 0,
  })),
};
const told = (r: Reading): string =>
  r.notes.map(n => `${String(n.strike)}@${show(n.onset)}+${show(n.duration)}=${String(n.pitch)}`).join(' ');
const after = (...edits: Edit[]): string => told(correct(reading, edits));

describe('corrections', () => {
  it('later: the note before runs on to it, its own end stays, and it is no longer in doubt', () => {
    const moved = correct(reading, [{ kind: 'move', note: 1, onset: fraction(3, 16) }]);
    expect(told(moved)).toBe('0@0+3/16=72 1@3/16+1/16=76 2@1/4+1/4=79 3@3/4+1/4=76');
    expect(moved.notes[1]?.doubt).toBe(0);
  });
  it('earlier: the note before is cut', () => {
    expect(after({ kind: 'move', note: 1, onset: fraction(1, 16) })).toBe(
      '0@0+1/16=72 1@1/16+3/16=76 2@1/4+1/4=79 3@3/4+1/4=76',
    );
  });
  it('before the first barline: it becomes an upbeat', () => {
    expect(show(correct(reading, [{ kind: 'move', note: 0, onset: fraction(-1, 8) }]).upbeat)).toBe('1/8');
  });
  it('longer stops at the next note; shorter leaves a rest', () => {
    expect(after({ kind: 'length', note: 0, duration: fraction(4, 16) })).toContain('0@0+1/8=72');
    expect(after({ kind: 'length', note: 2, duration: fraction(1, 16) })).toContain('2@1/4+1/16=79');
  });
  it('pitch, delete (the note before runs on), rest instead (it does not), add', () => {
    expect(after({ kind: 'pitch', note: 0, pitch: 74 })).toContain('0@0+1/8=74');
    expect(after({ kind: 'delete', note: 1 })).toBe('0@0+1/4=72 2@1/4+1/4=79 3@3/4+1/4=76');
    expect(after({ kind: 'rest', note: 1 })).toBe('0@0+1/8=72 2@1/4+1/4=79 3@3/4+1/4=76');
    expect(
      after({ kind: 'add', note: -1, onset: fraction(8, 16), duration: fraction(2, 16), pitch: 81 }),
    ).toContain('2@1/4+1/4=79 -1@1/2+1/8=81');
  });

  it('whatever is done, one line never overlaps itself, the reading given stays as it was, and lengths stay above zero', () => {
    const place = fc.integer({ min: -8, max: 40 }).map(n => fraction(n, 16));
    const note = fc.integer({ min: -2, max: 4 });
    const edits: fc.Arbitrary<Edit> = fc.oneof(
      fc.record({ kind: fc.constant('move' as const), note, onset: place }),
      fc.record({ kind: fc.constant('length' as const), note, duration: place }),
      fc.record({ kind: fc.constant('delete' as const), note }),
      fc.record({ kind: fc.constant('rest' as const), note }),
      fc.record({
        kind: fc.constant('add' as const),
        note: fc.integer({ min: -3, max: -1 }),
        onset: place,
        duration: place,
        pitch: fc.integer({ min: 60, max: 84 }),
      }),
    );
    const before = told(reading);
    fc.assert(
      fc.property(fc.array(edits, { maxLength: 8 }), all => {
        const { notes } = correct(reading, all);
        notes.forEach((n, i) => {
          expect(n.duration.n).toBeGreaterThan(0);
          const next = notes.slice(i + 1).find(other => less(n.onset, other.onset));
          if (next !== undefined) expect(less(next.onset, add(n.onset, n.duration))).toBe(false);
        });
        expect(told(reading)).toBe(before);
      }),
    );
  });
});

describe('undo and redo', () => {
  it('n steps back and n forth is where one was, for any n; a new step drops what was undone', () => {
    fc.assert(
      fc.property(fc.array(fc.string(), { minLength: 1, maxLength: 30 }), steps => {
        const done = steps.reduce((h, s) => record(h, `do ${s}`, h.present + s), startHistory(''));
        let back = done;
        for (const _ of steps) back = undo(back);
        expect(back.present).toBe('');
        expect(undo(back)).toBe(back);
        let forth = back;
        for (const _ of steps) forth = redo(forth);
        expect(forth).toEqual(done);
        expect(record(back, 'new', 'x').future).toEqual([]);
      }),
    );
  });
});

describe('the motif', () => {
  it('is one period of a repeated idea, and holds its notes cut at its end', () => {
    const twoBars = {
      ...reading,
      period: 1,
      notes: [
        ...reading.notes,
        ...reading.notes.map(n => ({ ...n, strike: n.strike + 4, onset: add(n.onset, fraction(1)) })),
      ],
    };
    expect(likelyMotif(twoBars)).toEqual({ from: 1, to: 1, closed: true });
    const motif = motifOfReading(twoBars, key('C'), { from: 2, to: 2 });
    expect(show(motif.length)).toBe('1');
    expect(motif.notes.map(n => show(n.onset))).toEqual(['0', '1/8', '1/4', '3/4']);
  });
});
