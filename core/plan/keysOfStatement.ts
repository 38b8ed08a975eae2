import { add, times as manyTimes } from '../foundation/fraction.ts';
import type { Motif } from '../motif/motif.ts';
import { type Changes, type KeyInForce, keyOfNote, keysInForce } from './keys.ts';
import { passageOf, type Statement } from './statement.ts';

/**
 * The key each note of a statement is in: for each time through, in the order of its notes.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const twice = { ...firstPlan('xylophone', 90).statements[0], times: 2 };
 * keysOfStatement(idea, twice, { keys: [{ bar: 1, moved: 7 }] }).map(([k]) => k.moved) // => [0, 7]
 */
export const keysOfStatement = (
  motif: Motif,
  statement: Statement,
  changes: Changes = {},
): readonly (readonly KeyInForce[])[] => {
  const inForce = keysInForce(motif, changes);
  const { notes, length } = passageOf(motif, statement);
  return Array.from({ length: statement.times }, (_, time) => {
    const at = add(statement.onset, manyTimes(length, time));
    return notes.map(note => keyOfNote(inForce, at, note.onset));
  });
};

/** The keys a statement is in, each once, in order. */
export const keysIn = (motif: Motif, statement: Statement, changes: Changes = {}): readonly KeyInForce[] =>
  [...new Set(keysOfStatement(motif, statement, changes).flat())].sort((a, b) => a.bar - b.bar);
