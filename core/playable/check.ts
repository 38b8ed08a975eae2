import { type MetresInForce, barIndexAt } from '../foundation/barring.ts';
import { type Fraction, less } from '../foundation/fraction.ts';
import type { Metre } from '../foundation/metre.ts';
import { midiOf, pitchName, type Spelled } from '../foundation/pitch.ts';
import type { BarNumber, MidiPitch, Seconds } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import type { Changes } from '../plan/keys.ts';
import { type Part, type Plan, statementsOf } from '../plan/plan.ts';
import { followsMetre, notesOfStatement, type Statement } from '../plan/statement.ts';
import { type ToneBarSet, type ToneBarState, toneBarState } from './toneBarSet.ts';
import { type Remedy, remediesFor, wholePieceMove } from './remedies.ts';
import { type MusicRoom, setFor } from './musicRoom.ts';
import { type Hand, suggestSticking } from './sticking.ts';
import { type MalletStroke, strokesOf } from './strokes.ts';
import { type Warning, warningsOf } from './warnings.ts';

/** A bar a part needs. */
export interface NeededToneBar {
  readonly pitch: MidiPitch;
  /** As the part spells it, with its octave. */
  readonly name: string;
  readonly state: ToneBarState;
  /** Where it is first struck, from the first full barline, in semibreves. */
  readonly first: Fraction;
}

/** One statement that cannot be played on its part's bars as it stands. */
export interface RangeProblem {
  readonly statement: string;
  /** The bars it needs and has not, low to high. */
  readonly toneBars: readonly NeededToneBar[];
  /** What would mend it, the nearest first; empty where no move does. */
  readonly remedies: readonly Remedy[];
}

export interface PartCheck {
  readonly part: Part;
  readonly set: ToneBarSet;
  /** Bars to set out, low to high. */
  readonly needed: readonly NeededToneBar[];
  readonly problems: readonly RangeProblem[];
  readonly warnings: readonly Warning[];
  readonly strokes: readonly MalletStroke[];
  readonly sticking: readonly Hand[];
}

export interface PlayableCheck {
  readonly parts: readonly PartCheck[];
  /** How many problems and warnings there are. */
  readonly count: number;
}

/**
 * What it takes to play a piece in a room: bars to set out, notes without a bar and what mends them,
 * a sticking and what is too fast for it. `secondsOf` tells when a place sounds, tempo changes included.
 */
export const checkPlayable = (
  motif: Motif,
  plan: Plan,
  room: MusicRoom,
  secondsOf: (at: Fraction) => Seconds,
): PlayableCheck => {
  const parts = plan.parts.map((part): PartCheck => {
    const set = setFor(room, plan, part);
    const strokes = strokesOf(motif, plan, part.id, secondsOf);
    const sticking = suggestSticking(strokes, room.limits);
    return {
      part,
      set,
      needed: neededToneBars(motif, set, statementsOf(plan, part.id), plan),
      problems: problemsOf(motif, plan, room, part, set),
      warnings: warningsOf(strokes, sticking, room.limits),
      strokes,
      sticking,
    };
  });
  return { parts, count: parts.reduce((so, p) => so + p.problems.length + p.warnings.length, 0) };
};

/**
 * The bars some statements need, each once, low to high.
 * @param changes of their piece
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * neededToneBars(idea, concertSet('xylophone'), plan.statements).map(b => b.name) // => ['C4']
 */
export const neededToneBars = (
  motif: Motif,
  set: ToneBarSet,
  statements: readonly Statement[],
  changes: Changes = {},
): readonly NeededToneBar[] => {
  const found = new Map<MidiPitch, NeededToneBar>();
  const need = (pitch: Spelled, at: Fraction): void => {
    const midi = midiOf(pitch);
    const before = found.get(midi);
    if (before !== undefined && !less(at, before.first)) return;
    const name = before?.name ?? pitchName(pitch);
    found.set(midi, { pitch: midi, name, state: toneBarState(set, midi), first: at });
  };
  for (const statement of statements) {
    // In one key every time through is alike, but for a figure that follows its metre.
    const follows = followsMetre(motif, statement, changes);
    const times = (changes.keys ?? []).length === 0 && !follows ? 1 : statement.times;
    for (const note of notesOfStatement(motif, { ...statement, times }, changes)) {
      need(note.pitch, note.onset);
      for (const grace of note.ruff ?? []) need(grace, note.onset);
      if (note.grace !== undefined) need(note.grace, note.onset);
      // What is not set out between its ends is passed over.
      if (note.gliss !== undefined) need(note.gliss.to, note.onset);
    }
  }
  return [...found.values()].sort((a, b) => a.pitch - b.pitch);
};

const problemsOf = (
  motif: Motif,
  plan: Plan,
  room: MusicRoom,
  part: Part,
  set: ToneBarSet,
): readonly RangeProblem[] => {
  const lacking = statementsOf(plan, part.id)
    .map(statement => ({
      statement,
      bars: neededToneBars(motif, set, [statement], plan).filter(bar => bar.state !== 'there'),
    }))
    .filter(({ bars }) => bars.length > 0);
  if (lacking.length === 0) return [];
  const whole = wholePieceMove(motif, plan, room);
  return lacking.map(({ statement, bars }) => ({
    statement: statement.id,
    toneBars: bars,
    remedies: remediesFor(motif, plan, room, statement, whole),
  }));
};

/**
 * The strokes of a part by bar: its hands in order, for every bar in which it strikes. Bars from 1.
 * @example
 * handsByBar({ strokes: [{ onset: fraction(1), seconds: 2, pitches: [60] }], sticking: ['L'] }, metre(4, 4)) // => [{ bar: 2, hands: ['L'] }]
 */
export const handsByBar = (
  check: Pick<PartCheck, 'strokes' | 'sticking'>,
  barring: Metre | MetresInForce,
): readonly { readonly bar: BarNumber; readonly hands: readonly Hand[] }[] => {
  const bars: { bar: BarNumber; hands: Hand[] }[] = [];
  for (const [index, stroke] of check.strokes.entries()) {
    const bar = barIndexAt(barring, stroke.onset);
    const hand = check.sticking[index] ?? 'R';
    const last = bars.at(-1);
    if (last?.bar === bar + 1) last.hands.push(hand);
    else bars.push({ bar: bar + 1, hands: [hand] });
  }
  return bars;
};
