import { compare } from '../foundation/fraction.ts';
import { midiOf, pitchName, type Spelled } from '../foundation/pitch.ts';
import { failed, ok } from '../foundation/result.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { Motif } from '../motif/motif.ts';
import type { StepChoice } from '../plan/accompaniment.ts';
import { barAndBeat, positionOf } from '../plan/beats.ts';
import { addStatement } from '../plan/change.ts';
import { barringIn } from '../plan/keys.ts';
import { type Plan, statementsOf } from '../plan/plan.ts';
import { notesOfStatement, type Statement, statementStart } from '../plan/statement.ts';
import { inMetre } from './accompany.ts';
import type { Grown, Growth } from './growth.ts';
import { outOfRange } from './refusals.ts';
import { MOST_BARS } from './sectionProblems.ts';
import { lastBar } from './sections.ts';

const isEnding = (s: Statement): boolean => s.accompaniment?.kind === 'ending';

/** The plan without the last long note it ends with already; the plan itself where it has none, or plays on in its bar. */
const beforeEnding = (motif: Motif, plan: Plan): Plan => {
  const last = lastBar(motif, plan);
  const barring = barringIn(motif, plan);
  const statements = plan.statements.filter(s => !isEnding(s) || barAndBeat(barring, s.onset).bar !== last);
  const before = { ...plan, statements };
  return statements.length < plan.statements.length && lastBar(motif, before) < last ? before : plan;
};

/**
 * The last long note: every part strikes the note chosen for it together, in a bar of its own after all
 * that sounds. Parts for which none was chosen are silent there. In a piece that begins with an upbeat the bar is
 * shorter by it. Where the piece ends so already, this ending takes the place of that one and keeps its marks.
 */
export const ending = (motif: Motif, plan: Plan, step: Extract<Growth, { kind: 'ending' }>): Grown => {
  const before = beforeEnding(motif, plan);
  const bar = lastBar(motif, before) + 1;
  const barring = barringIn(motif, plan);
  const chosen = plan.parts.flatMap(part => {
    const own = step.steps[part.id];
    return own === undefined ? [] : [{ part: part.id, step: own }];
  });
  if (bar > MOST_BARS) return failed(outOfRange(`at most ${String(MOST_BARS)} bars`));
  if (chosen.length === 0) return failed(outOfRange('a last note for one part or more'));
  const closed = plan.statements.some(s => statementStart(motif, s).n < 0) ? { closed: true as const } : {};
  let grown = { plan: before, statement: step.statement };
  for (const { part, step: degree } of chosen) {
    const old = plan.statements.find(s => s.part === part && !before.statements.includes(s));
    const { id: _, detached: __, ...marked } = old ?? { id: '', detached: undefined };
    const added = addStatement(motif, grown.plan, {
      ...marked,
      part,
      onset: positionOf(barring, bar, 1),
      chain: [],
      times: 1,
      accompaniment: inMetre({ kind: 'ending', steps: [degree], ...closed }, motif, barring, bar),
    });
    if (!added.ok) return added;
    const own = old?.id ?? added.value.id;
    const statements = added.value.plan.statements.map(s =>
      s.id === added.value.id ? { ...s, id: own } : s,
    );
    grown = { plan: { ...added.value.plan, statements }, statement: own };
  }
  return ok(grown);
};

/** The tonic of octave 4, and how many steps an octave has. */
const TONIC = 28;
const OCTAVE = 7;

/** What a part plays last: of a tune its last note, of notes struck together the highest; of a figure the lowest of all. */
const lastPlayed = (motif: Motif, plan: Plan, part: string): number | undefined => {
  const statement = statementsOf(plan, part).at(-1) ?? plan.statements[0];
  if (statement === undefined) return undefined;
  const notes = notesOfStatement(motif, statement, plan);
  if (statement.accompaniment !== undefined) return Math.min(...notes.map(n => midiOf(n.pitch)));
  const inOrder = [...notes].sort((a, b) => compare(a.onset, b.onset) || midiOf(a.pitch) - midiOf(b.pitch));
  const last = inOrder.at(-1);
  return last === undefined ? undefined : midiOf(last.pitch);
};

/**
 * Notes on which a part may end, low to high and by the names they have there, and which is the usual one: the tonic
 * nearest to what the part plays last, within the range of its instrument; of two as near the lower.
 * @example
 * const notes = [28, 34].map((degree, i) => ({ onset: fraction(i, 2), duration: fraction(1, 2), degree, alter: 0 }));
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes };
 * lastNotes(idea, firstPlan('xylophone', 90), 'p1').usual // => { step: 35, name: 'C5' }
 */
export const lastNotes = (
  motif: Motif,
  whole: Plan,
  part: string,
): { readonly usual: StepChoice; readonly choices: readonly StepChoice[] } => {
  const plan = beforeEnding(motif, whole);
  const onset = positionOf(barringIn(motif, plan), lastBar(motif, plan) + 1, 1);
  const struck = (step: number): Spelled | undefined => {
    const accompaniment = { kind: 'ending', steps: [step] } as const;
    const statement = { id: '', part, onset, chain: [], times: 1, accompaniment };
    return notesOfStatement(motif, statement, plan)[0]?.pitch;
  };
  const { low, high } = INSTRUMENTS[plan.parts.find(p => p.id === part)?.instrument ?? 'marimba'];
  const playable = (steps: readonly number[]): readonly { step: number; pitch: Spelled }[] =>
    steps.flatMap(step => {
      const pitch = struck(step);
      return pitch === undefined || midiOf(pitch) < low || midiOf(pitch) > high ? [] : [{ step, pitch }];
    });
  const tonics = playable(Array.from({ length: 13 }, (_, octave) => (octave - 1) * OCTAVE));
  const last =
    lastPlayed(motif, plan, part) ?? midiOf(tonics[0]?.pitch ?? { letter: 'C', alter: 0, octave: 4 });
  const away = (one: { pitch: Spelled }): number => Math.abs(midiOf(one.pitch) - last);
  const { step: usual } = [...tonics].sort((a, b) => away(a) - away(b))[0] ?? { step: TONIC };
  const choices = playable(Array.from({ length: 2 * OCTAVE + 1 }, (_, i) => usual - OCTAVE + i)).map(
    ({ step, pitch }) => ({ step, name: pitchName(pitch) }),
  );
  return { usual: choices.find(c => c.step === usual) ?? { step: usual, name: '' }, choices };
};
