import { add, type Fraction, larger, subtract, times as manyTimes, ZERO } from '../foundation/fraction.ts';
import { named, type NoteName } from '../foundation/enharmonic.ts';
import { type Key, scaleMidi, type ScalePitch, scaleSize, spell, spellScale } from '../foundation/key.ts';
import { LETTERS, type Spelled } from '../foundation/pitch.ts';
import { applyChain } from '../motif/apply.ts';
import { type Motif, type MotifNote, type Passage, soundingEnd, upbeatOf } from '../motif/motif.ts';
import { barsBetween, type Glissando } from '../motif/glissando.ts';
import { spellingOf } from '../motif/spellNotes.ts';
import type { Treatment } from '../motif/treatment.ts';
import { type Accompaniment, accompanimentPassage } from './accompaniment.ts';
import { type FiguredBar, figuredBars } from './figuredBars.ts';
import { barringIn, type Changes, type KeyInForce, keyOfNote, keysInForce, passageInKey } from './keys.ts';
import { markedNotes, type StatementMarks } from './marks.ts';
import type { PlacedGlissando, PlacedNote } from './placed.ts';

/** One appearance of the motif in a part: where it enters, what was done to it, how often it is stated. */
export interface Statement extends StatementMarks {
  readonly id: string;
  readonly part: string;
  /** Which motif it states, where there are several; absent for the first. */
  readonly motif?: string;
  /** Where its first barline stands, from the first barline of the piece, in semibreves; its upbeat comes before. */
  readonly onset: Fraction;
  /** Treatments, applied in order to the motif as it is now. */
  readonly chain: readonly Treatment[];
  /** How many times, straight after itself; at least 1. */
  readonly times: number;
  /** The statement this one follows or answers, when it was made as an entry. */
  readonly leader?: string;
  /** What it plays instead of a motif: a bar of accompaniment, over and over. */
  readonly accompaniment?: Accompaniment;
  /** Notes of its own, when it was untied from the motif to be changed by hand. */
  readonly detached?: readonly MotifNote[];
}

/**
 * The passage of one time through a statement.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * passageOf(idea, plan.statements[0]).length // => fraction(1)
 */
export const passageOf = (motif: Motif, statement: Statement): Passage => {
  const stated = statement.motif === undefined ? motif : (motif.others?.[statement.motif] ?? motif);
  const plain =
    statement.accompaniment === undefined
      ? stated
      : accompanimentPassage(motif.key, motif.metre, statement.accompaniment, upbeatOf(motif));
  const treated = applyChain(plain, motif.key, statement.chain);
  if (statement.detached === undefined) return treated;
  const own: Passage = { ...treated, notes: statement.detached };
  // The motif may have become shorter since; notes changed by hand do not follow it and keep their room.
  return { ...own, length: larger(treated.length, add(soundingEnd(own), upbeatOf(own))) };
};

/** The chain of a statement with more treatments; notes changed by hand are treated too. */
export const treatedFurther = (
  motif: Motif,
  statement: Omit<Statement, 'id'>,
  more: readonly Treatment[],
): Pick<Statement, 'chain' | 'detached'> => {
  const chain = [...statement.chain, ...more];
  if (statement.detached === undefined) return { chain };
  const passage = passageOf(motif, { ...statement, id: '' });
  return { chain, detached: applyChain(passage, motif.key, more).notes };
};

/**
 * How long a statement lasts with all its repeats, in semibreves.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * statementLength(idea, { ...plan.statements[0], times: 3 }) // => fraction(3)
 */
export const statementLength = (motif: Motif, statement: Statement): Fraction =>
  manyTimes(passageOf(motif, statement).length, statement.times);

/**
 * Where a statement begins to sound, its upbeat included, in semibreves from the first barline of the piece.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), upbeat: fraction(1, 4), notes: [] };
 * statementStart(idea, firstPlan('xylophone', 90).statements[0]) // => fraction(-1, 4)
 */
export const statementStart = (motif: Motif, statement: Statement): Fraction =>
  subtract(statement.onset, upbeatOf(passageOf(motif, statement)));

/**
 * Where a statement ends with all its repeats, in semibreves from the first barline of the piece: as much
 * before a barline as its upbeat is long.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
 * statementEnd(idea, { ...firstPlan('xylophone', 90).statements[0], onset: fraction(1) }) // => fraction(2)
 */
export const statementEnd = (motif: Motif, statement: Statement): Fraction =>
  add(statementStart(motif, statement), statementLength(motif, statement));

/**
 * The onset of the same passage stated straight after a statement: where its next first barline stands.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), upbeat: fraction(1, 4), notes: [] };
 * onsetAfter(idea, firstPlan('xylophone', 90).statements[0]) // => fraction(1)
 */
export const onsetAfter = (motif: Motif, statement: Statement): Fraction =>
  add(statement.onset, statementLength(motif, statement));

/** The bars of a statement whose figure goes with another metre than its own; undefined for every other. */
const figuredIn = (
  motif: Motif,
  statement: Statement,
  passage: Passage,
  changes: Changes,
): readonly FiguredBar[] | undefined =>
  statement.accompaniment === undefined
    ? undefined
    : figuredBars(motif, statement, passage, barringIn(motif, changes));

/**
 * Whether a statement is a drone or a chord with another metre under it than it was made for: its times are bars then.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
 * const drone = { id: 's2', part: 'p1', onset: fraction(0), chain: [], times: 4, accompaniment: { kind: 'chord', steps: [28] } };
 * followsMetre(idea, drone, { metres: [{ bar: 2, metre: metre(3, 4) }] }) // => true
 * followsMetre(idea, drone, {}) // => false
 */
export const followsMetre = (motif: Motif, statement: Statement, changes: Changes): boolean =>
  figuredIn(motif, statement, passageOf(motif, statement), changes) !== undefined;

/**
 * The notes of a statement, placed and spelled; `ref` is "statement id:time:note index". A drone or a chord has the
 * figure of the bars it is in, and its times are those bars where another metre begins under it.
 * @param changes of its piece: each note sounds and is spelled in the key it is in
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * notesOfStatement(idea, plan.statements[0]).map(n => pitchName(n.pitch)) // => ['C4']
 */
export const notesOfStatement = (
  motif: Motif,
  statement: Statement,
  changes: Changes = {},
): readonly PlacedNote[] => {
  const passage = passageOf(motif, statement);
  const { onset, times, id } = statement;
  const inForce = keysInForce(motif, changes);
  const figured = figuredIn(motif, statement, passage, changes);
  if (figured !== undefined)
    return markedNotes(
      figured.map((bar, time) => notesOfPassage(motif.key, bar.passage, bar.at, 1, id, inForce, time)),
      statement,
    );
  const count = passage.notes.length;
  const notes = notesOfPassage(motif.key, passage, onset, times, id, inForce);
  return markedNotes(
    Array.from({ length: times }, (_, time) => notes.slice(time * count, (time + 1) * count)),
    statement,
  );
};

/**
 * The notes of a passage stated `count` times from `at` (semibreves) on, spelled for a key; refs are "id:time:note index".
 * @param inForce the keys of its piece, where there are several
 * @param first number of the first time through
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * notesOfPassage(key('C'), idea, fraction(1), 2, 's1').map(n => show(n.onset)) // => ['1', '2']
 */
export const notesOfPassage = (
  k: Key,
  passage: Passage,
  at: Fraction,
  count: number,
  id: string,
  inForce: readonly KeyInForce[] = [],
  first = 0,
): readonly PlacedNote[] => {
  const only: KeyInForce = { bar: 0, from: ZERO, written: k, sounds: k, shift: 0, moved: 0 };
  const spelled = new Map<KeyInForce, Spelling>();
  const spellingFor = (own: KeyInForce): Spelling => {
    const known = spelled.get(own) ?? spelledIn(own.written, passageInKey(k, passage, own), own.sounds);
    spelled.set(own, known);
    return known;
  };
  return Array.from({ length: count }, (_, time) => {
    const start = add(at, manyTimes(passage.length, time));
    return passage.notes.map((note, index): PlacedNote => {
      const own = inForce.length < 2 ? only : keyOfNote(inForce, start, note.onset);
      return {
        onset: add(start, note.onset),
        duration: note.duration,
        pitch: spellScale(k, note),
        ref: `${id}:${String(first + time)}:${String(index)}`,
        ...spellingFor(own)[index],
        ...(note.roll === undefined ? {} : { roll: note.roll }),
      };
    });
  }).flat();
};

/** How each note of a passage is spelled, its grace notes, and its line over bars, in their order. */
type Spelling = readonly Pick<PlacedNote, 'pitch' | 'grace' | 'ruff' | 'gliss'>[];

/** A passage told by the degrees of one key, spelled in the same or, where only the signature is another, in that. */
const spelledIn = (written: Key, passage: Passage, told: Key): Spelling => {
  const pitches = spellingIn(written, passage, told);
  return passage.notes.map((note, index) => ({
    pitch: pitches[index] ?? spell(written, scaleMidi(told, note)),
    ...(note.grace === undefined ? {} : { grace: graceIn(written, note.grace, note.name, told) }),
    ...(note.ruff === undefined ? {} : { ruff: note.ruff.map(g => graceIn(written, g, note.name, told)) }),
    ...(note.gliss === undefined ? {} : { gliss: drawnIn(written, note, note.gliss, told) }),
  }));
};

/** The bars of a line are those of the key it sounds in. */
const drawnIn = (written: Key, note: MotifNote, gliss: Glissando, told: Key): PlacedGlissando => ({
  to: graceIn(written, gliss.to, undefined, told),
  between: barsBetween(told, note, gliss),
});

/** A flam is struck on the same bar as its note, and has its name. */
const graceIn = (written: Key, grace: ScalePitch, name: NoteName | undefined, told: Key): Spelled => {
  const midi = scaleMidi(told, grace);
  return named(midi, name) ?? (written === told ? spellScale(told, grace) : spell(written, midi));
};

/**
 * A degree of seven carries its letter; in a scale of five, and in another key than its own, the line has to say
 * which letter is meant.
 */
const spellingIn = (written: Key, passage: Passage, told: Key): readonly Spelled[] =>
  written === told && scaleSize(told) === LETTERS.length
    ? passage.notes.map(note => named(scaleMidi(told, note), note.name) ?? spellScale(told, note))
    : spellingOf(
        passage.notes.map(({ name, ...note }) => ({
          onset: note.onset,
          pitch: scaleMidi(told, note),
          ...(name === undefined ? {} : { name }),
        })),
        written,
      );
