import { equal, negate } from '../foundation/fraction.ts';
import { scaleMidi } from '../foundation/key.ts';
import { applyChain } from '../motif/apply.ts';
import { type Motif, type Passage, upbeatOf } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { type Changes, type KeyInForce, lettersMoved } from './keys.ts';
import { keysOfStatement } from './keysOfStatement.ts';
import { passageOf, type Statement } from './statement.ts';
import { isMove } from './treatmentWords.ts';

/** What a follower does with what its leader states. */
export interface Likeness {
  /** What it does besides moving: inversion, augmentation and so on. */
  readonly forms: readonly Treatment[];
  /** How many steps of the scale it stands higher, where that is the same for every note. */
  readonly steps?: number;
  /** How many semitones, where it is exact: every interval the leader's own, in quality too. */
  readonly semitones?: number;
  /** Whether it breaks off before the leader's end. */
  readonly cutShort: boolean;
  /** Whether it is in another key. */
  readonly modulates?: true;
}

/** A passage as its treatments make it, whatever was changed by hand since. */
const tied = (motif: Motif, { detached: _, ...statement }: Statement): Passage => passageOf(motif, statement);

/** The one value all have; undefined where they differ. */
const shared = (values: readonly number[]): number | undefined =>
  values.every(v => v === values[0]) ? (values[0] ?? 0) : undefined;

const same = (a: Treatment | undefined, b: Treatment): boolean => JSON.stringify(a) === JSON.stringify(b);

/**
 * How what a statement plays is like what its leader plays, judged by the notes; undefined where it is not,
 * because it states another motif or the leader was treated on its own since.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const leader = firstPlan('xylophone', 90).statements[0];
 * likeness(idea, { ...leader, id: 's2', chain: [{ kind: 'octave', octaves: 1 }] }, leader).semitones // => 12
 * @param changes of their piece
 */
export const likeness = (
  motif: Motif,
  statement: Statement,
  leader: Statement,
  changes: Changes = {},
): Likeness | undefined => {
  if (statement.motif !== leader.motif) return undefined;
  const led = leader.chain.filter(t => !isMove(t));
  const own = statement.chain.filter(t => !isMove(t));
  if (!led.every((t, i) => same(own[i], t))) return undefined;
  const all = own.slice(led.length);
  const lead = tied(motif, leader);
  const start = negate(upbeatOf(lead));
  const cutShort = all.length === 1 && all[0]?.kind === 'fragment' && equal(all[0].from, start);
  const notes = tied(motif, statement).notes;
  const inKey = applyChain(lead, motif.key, all).notes;
  // An exact inversion is the real one: about the first note, whatever the axis.
  const real = all.map((t): Treatment => (t.kind === 'invert' ? { kind: 'invert', by: 'semitone' } : t));
  const exactly = applyChain(lead, motif.key, real).notes;
  if (notes.length !== inKey.length) return undefined;
  const sameAlter = notes.every((n, i) => n.alter === inKey[i]?.alter);
  const steps = sameAlter ? shared(notes.map((n, i) => n.degree - (inKey[i]?.degree ?? 0))) : undefined;
  const semitones = shared(
    notes.map((n, i) => scaleMidi(motif.key, n) - scaleMidi(motif.key, exactly[i] ?? n)),
  );
  const forms = cutShort ? [] : all;
  const apart = keysApart(motif, statement, leader, all, changes);
  const heard = {
    steps: steps === undefined || apart.letters === undefined ? undefined : steps + apart.letters,
    semitones:
      semitones === undefined || apart.semitones === undefined ? undefined : semitones + apart.semitones,
  };
  if (heard.steps === undefined && heard.semitones === undefined) return undefined;
  return {
    forms,
    cutShort,
    ...(heard.steps === undefined ? {} : { steps: heard.steps }),
    ...(heard.semitones === undefined ? {} : { semitones: heard.semitones }),
    ...(apart.semitones === 0 ? {} : { modulates: true }),
  };
};

/**
 * How much higher the keys of a statement make it than those of its leader make that: in semitones, undefined where
 * it is not the same all through; in letters, undefined where the scale has not every letter. Where it differs from
 * note to note, the letters are those of the keys they begin in.
 */
const keysApart = (
  motif: Motif,
  statement: Statement,
  leader: Statement,
  forms: readonly Treatment[],
  changes: Changes,
): { readonly semitones?: number; readonly letters?: number } => {
  if ((changes.keys ?? []).length === 0) return { semitones: 0, letters: 0 };
  const mine = keysOfStatement(motif, statement, changes);
  const theirs = keysOfStatement(motif, leader, changes);
  const letters = (k: KeyInForce | undefined): number | undefined =>
    k === undefined ? 0 : lettersMoved(motif.key, k);
  const [own, led] = [mine[0]?.[0], theirs[0]?.[0]];
  const [a, b] = [letters(own), letters(led)];
  const apart = shared(
    mine.flat().every(k => k.moved === own?.moved) && theirs.flat().every(k => k.moved === led?.moved)
      ? [(own?.moved ?? 0) - (led?.moved ?? 0)]
      : forms.length > 0
        ? [0, 1]
        : mine.flatMap((time, t) => time.flatMap((k, i) => k.moved - (theirs[t]?.[i]?.moved ?? k.moved))),
  );
  return {
    ...(apart === undefined ? {} : { semitones: apart }),
    ...(own?.moved === led?.moved
      ? { letters: 0 }
      : a === undefined || b === undefined
        ? {}
        : { letters: a - b }),
  };
};
