import { add, atMost, type Fraction, ZERO } from '../foundation/fraction.ts';
import type { NoteName } from '../foundation/enharmonic.ts';
import { type Key, keyName, scaleSize, spellScale, writable } from '../foundation/key.ts';
import { type MetresInForce, barringOf, barStart, type MetreChange } from '../foundation/barring.ts';
import { degreesMoved, movedKey } from '../foundation/movedKey.ts';
import { fifthsOf, LETTERS, spellAtFifths, staffPosition } from '../foundation/pitch.ts';
import type { BarIndex } from '../foundation/units.ts';
import { type Motif, type Passage, repitched } from '../motif/motif.ts';

/**
 * Another key from a bar (index from 0, 1 or more) on: everything sounds so many semitones higher than at the
 * beginning of the piece (0 leads home again), in the key that lies as far away; or the signature alone
 * changes, and everything sounds on as it did.
 */
export type KeyChange =
  { readonly bar: BarIndex; readonly moved: number } | { readonly bar: BarIndex; readonly signature: Key };

/** What changes in the course of a piece, bar by bar: part of its plan. */
export interface Changes {
  /** Other keys from a bar on, in order. */
  readonly keys?: readonly KeyChange[];
  /** Other metres from a bar on, in order; tempi are told in their beats. */
  readonly metres?: readonly MetreChange[];
}

/**
 * How the music of a piece is barred: in the metre of its motif, and in others from later bars on.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
 * barringIn(idea, { metres: [{ bar: 4, metre: metre(3, 4) }] }).map(m => showMetre(m.metre)) // => ['4/4', '3/4']
 */
export const barringIn = (motif: Pick<Motif, 'metre'>, { metres }: Changes): MetresInForce =>
  barringOf(motif.metre, metres);

/** How far a change of key may move everything, in semitones, either way. */
export const FARTHEST_KEY = 12;

/** As many changes of key as a piece may have. */
export const MOST_KEYS = 100;

/** Changes of metre: sections copied bring theirs along, so as many as a piece may have bars. */
export const MOST_METRES = 400;

/** The key that holds from a place on. */
export interface KeyInForce {
  readonly bar: BarIndex;
  /** From the first full barline, in semibreves. */
  readonly from: Fraction;
  /** What the page is written in. */
  readonly written: Key;
  /** What degrees of the motif are told in, `shift` of them higher; another key where the signature alone changed. */
  readonly sounds: Key;
  readonly shift: number;
  /** Semitones higher than at the beginning. */
  readonly moved: number;
}

/**
 * The keys of a piece in order, the first one from the beginning. Changes at bar 0 and before are none; of two at
 * one bar the later in the list holds.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
 * keysInForce(idea, { keys: [{ bar: 4, moved: 7 }] }).map(k => keyName(k.written)) // => ['C major', 'G major']
 * keysInForce(idea, { keys: [{ bar: 4, signature: key('F') }] }).map(k => keyName(k.sounds)) // => ['C major', 'C major']
 */
export const keysInForce = (
  motif: Pick<Motif, 'key' | 'metre'>,
  changes: Changes = {},
): readonly KeyInForce[] => {
  const { keys = [] } = changes;
  const first = writable(motif.key);
  const all: KeyInForce[] = [{ bar: 0, from: ZERO, written: first, sounds: first, shift: 0, moved: 0 }];
  // Asked of every statement: a piece in one key must not count its bars each time.
  if (keys.length === 0) return all;
  const barring = barringIn(motif, changes);
  for (const change of [...keys].filter(c => c.bar > 0).sort((a, b) => a.bar - b.bar)) {
    const before = all.at(-1);
    if (before === undefined) continue;
    const at = { bar: change.bar, from: barStart(barring, change.bar) };
    if (before.bar === change.bar) all.pop();
    if ('signature' in change) {
      all.push({ ...before, ...at, written: writable(change.signature) });
      continue;
    }
    const to = movedKey(first, change.moved);
    const shift = degreesMoved(first, to, change.moved);
    all.push({ ...at, written: to, sounds: to, shift, moved: change.moved });
  }
  return all;
};

/**
 * The key a note is in: the one at its place. An upbeat is in the key of the barline it leads to.
 * @param at where the first barline of its time through stands
 * @param onset the note's, from there
 */
export const keyOfNote = (inForce: readonly KeyInForce[], at: Fraction, onset: Fraction): KeyInForce => {
  const place = onset.n < 0 ? at : add(at, onset);
  let found = inForce[0];
  for (const one of inForce) if (atMost(one.from, place)) found = one;
  if (found === undefined) throw new RangeError('a piece begins in some key');
  return found;
};

/** A name given by hand, in the key it is moved to; undefined where nobody writes such a name. */
const movedName = (from: Key, to: Key, name: NoteName): NoteName | undefined => {
  const fifths = fifthsOf(name) + fifthsOf(to.tonic) - fifthsOf(from.tonic);
  const { letter, alter } = spellAtFifths(0, fifths);
  return Math.abs(alter) > 2 ? undefined : { letter, alter };
};

/** A passage of the motif as the key in force has it: told by degrees of `sounds`. */
export const passageInKey = (first: Key, passage: Passage, { sounds, shift }: KeyInForce): Passage => ({
  ...passage,
  notes: passage.notes.map(note => {
    const { name, ...moved } = repitched(note, ({ degree, alter }) => ({ degree: degree + shift, alter }));
    const own = name === undefined ? undefined : movedName(first, sounds, name);
    return own === undefined ? moved : { ...moved, name: own };
  }),
});

/**
 * How many letters higher than at the beginning a key makes everything; undefined in a scale that leaves letters out.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
 * keysInForce(idea, { keys: [{ bar: 4, moved: -5 }] }).map(k => lettersMoved(key('C'), k)) // => [0, -3]
 */
export const lettersMoved = (first: Key, { sounds, shift }: KeyInForce): number | undefined =>
  scaleSize(sounds) === LETTERS.length ? shift + placeOfTonic(sounds) - placeOfTonic(first) : undefined;

/** Where degree 0 stands on the stave. */
const placeOfTonic = (k: Key): number => staffPosition(spellScale(k, { degree: 0, alter: 0 }));

/**
 * A plan's changes of key with one more, or with the one at its bar replaced; a change that changes nothing is left out.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
 * withKey(idea, [{ bar: 2, moved: 7 }], { bar: 4, moved: 7 }) // => [{ bar: 2, moved: 7 }]
 */
export const withKey = (
  motif: Pick<Motif, 'key' | 'metre'>,
  changes: readonly KeyChange[],
  change: KeyChange,
): readonly KeyChange[] => {
  const others = withoutKey(changes, change.bar);
  const all = [...others, change].sort((a, b) => a.bar - b.bar);
  const inForce = keysInForce(motif, { keys: all });
  const at = inForce.findIndex(k => k.bar === change.bar);
  const before = inForce[at - 1];
  const now = inForce[at];
  const idle =
    before !== undefined &&
    now !== undefined &&
    before.moved === now.moved &&
    keyName(before.written) === keyName(now.written);
  return idle ? others : all;
};

/** Changes of key without the one at a bar. */
export const withoutKey = (changes: readonly KeyChange[], bar: BarIndex): readonly KeyChange[] =>
  changes.filter(c => c.bar !== bar);
