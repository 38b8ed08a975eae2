import { failed, ok } from '../../../core/foundation/result.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { editByHand, type HandEdit, retie } from '../../../core/growing/detach.ts';
import type { Articulation, Dynamic } from '../../../core/plan/dynamics.ts';
import { LONGEST_WORDS, type StatementMarks } from '../../../core/plan/marks.ts';
import { type NoteMark, toggleMark } from '../../../core/plan/noteMarks.ts';
import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import { statementName } from '../../../core/plan/naming.ts';
import { afterThe, partName } from '../../../core/plan/partList.ts';
import { addPart, removeStatement } from '../../../core/plan/change.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { beatsAway } from '../../../core/plan/beats.ts';
import { findStatement, type Plan, statementsOf } from '../../../core/plan/plan.ts';
import { onsetAfter, type Statement } from '../../../core/plan/statement.ts';
import { motifOf, planOf } from '../../../core/piece/piece.ts';
import type { Command } from '../command.ts';
import type { DeskState } from '../state.ts';
import { selectStatement } from './settings.ts';
import { changePlan, growNow } from './trial.ts';

interface Found {
  readonly motif: Motif;
  readonly plan: Plan;
  readonly statement: Statement;
  readonly name: string;
}

/** A statement of the plan with what belongs to it; undefined where it is gone. */
const found = (desk: DeskState, id: string): Found | undefined => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return undefined;
  const motif = motifOf(piece);
  const plan = planOf(piece);
  const statement = findStatement(plan, id);
  return statement && { motif, plan, statement, name: statementName(motif, plan, statement) };
};

/** Takes a statement away, and a part that it leaves empty; the last statement stays. */
export const takeAway: Command<[id: string]> = (desk, id) => {
  const here = found(desk, id);
  if (here === undefined || here.plan.statements.length < 2) return ok(desk);
  const taken = changePlan(desk, `take away ${here.name}`, old => {
    const left = removeStatement(old, id);
    const empty = left.parts.filter(
      p => left.parts.length > 1 && !left.statements.some(s => s.part === p.id),
    );
    return { ...left, parts: left.parts.filter(p => !empty.includes(p)) };
  });
  return taken.ok ? selectStatement(taken.value, undefined) : taken;
};

/** Moves a statement by beats; what stands in the way is said. */
export const moveStatement: Command<[id: string, beats: number]> = (desk, id, beats) => {
  const here = found(desk, id);
  if (here === undefined) return ok(desk);
  const onset = beatsAway(barringIn(here.motif, here.plan), here.statement.onset, beats);
  return growNow(desk, `move ${here.name} ${beats > 0 ? 'later' : 'earlier'}`, {
    kind: 'move',
    statement: id,
    onset,
  });
};

/** Moves a statement to the part above (-1) or below (+1). */
export const moveToPart: Command<[id: string, by: 1 | -1]> = (desk, id, by) => {
  const here = found(desk, id);
  const index = here?.plan.parts.findIndex(p => p.id === here.statement.part) ?? -1;
  const part = here?.plan.parts[index + by];
  if (here === undefined || part === undefined) return ok(desk);
  return growNow(desk, `give ${here.name} to the ${afterThe(partName(here.plan, part))}`, {
    kind: 'move',
    statement: id,
    onset: here.statement.onset,
    part: part.id,
  });
};

/** The same statement again, where its part is next free. */
export const copyStatement: Command<[id: string]> = (desk, id) => {
  const here = found(desk, id);
  if (here === undefined) return ok(desk);
  const { motif, statement, name } = here;
  return growNow(
    desk,
    `copy ${name}`,
    {
      kind: 'state',
      statement: id,
      treatments: [],
      to: { part: statement.part },
      onset: onsetAfter(motif, statement),
      times: statement.times,
    },
    'postpone',
  );
};

const changed = (
  desk: DeskState,
  name: string,
  id: string,
  change: (statement: Statement) => Statement,
): ReturnType<typeof changePlan> =>
  changePlan(desk, name, old => ({
    ...old,
    statements: old.statements.map(s => (s.id === id ? change(s) : s)),
  }));

/** How loud a statement is from its first note on; undefined for as before. */
export const setDynamic: Command<[id: string, dynamic: Dynamic | undefined]> = (desk, id, dynamic) =>
  changed(desk, `loudness ${dynamic ?? 'as before'}`, id, ({ dynamic: _, ...s }) =>
    dynamic === undefined ? s : { ...s, dynamic },
  );

/** How every note of a statement is played; undefined for plainly. */
export const setArticulation: Command<[id: string, articulation: Articulation | undefined]> = (
  desk,
  id,
  articulation,
) =>
  changed(desk, `played ${articulation ?? 'plainly'}`, id, ({ articulation: _, ...s }) =>
    articulation === undefined ? s : { ...s, articulation },
  );

/** Marks of a statement besides loudness and touch; a mark that is undefined is taken away. */
type Marks = Pick<
  StatementMarks,
  'hairpin' | 'slurred' | 'pedalled' | 'fermata' | 'rolled' | 'ritardando' | 'words'
>;

/** Sets marks of a statement, or takes them away; the others stay. */
export const setMarks: Command<
  [id: string, name: string, marks: { readonly [K in keyof Marks]?: Marks[K] | undefined }]
> = (desk, id, name, marks) =>
  changed(desk, name, id, statement => {
    const next = { ...statement, ...marks };
    const { hairpin, slurred, pedalled, fermata, rolled, ritardando, words, ...rest } = next;
    const said = words?.trim().slice(0, LONGEST_WORDS) ?? '';
    return {
      ...rest,
      ...(hairpin === undefined ? {} : { hairpin }),
      ...(slurred === undefined ? {} : { slurred }),
      ...(pedalled === undefined ? {} : { pedalled }),
      ...(fermata === undefined ? {} : { fermata }),
      ...(rolled === undefined ? {} : { rolled }),
      ...(ritardando === undefined ? {} : { ritardando }),
      ...(said === '' ? {} : { words: said }),
    };
  });

/** Sets a mark on one note of one time through, or takes it away. */
export const toggleNoteMark: Command<[id: string, name: string, mark: NoteMark]> = (desk, id, name, mark) =>
  changed(desk, name, id, ({ noteMarks = [], ...statement }) => {
    const marks = toggleMark(noteMarks, mark);
    return marks.length === 0 ? statement : { ...statement, noteMarks: marks };
  });

/** Ties a statement to the motif again; what was changed by hand in it is given up. */
export const tieAgain: Command<[id: string]> = (desk, id) =>
  changePlan(desk, 'tie to the motif again', old => retie(old, id));

/** Changes one note of a statement by hand; the statement is untied from the motif first. */
export const changeByHand: Command<[id: string, name: string, edit: HandEdit]> = (desk, id, name, edit) => {
  const here = found(desk, id);
  return here === undefined ? ok(desk) : changePlan(desk, name, old => editByHand(here.motif, old, id, edit));
};

/** Chooses the statement before or after in reading order: by part, then by entry. */
export const walkStatements: Command<[by: 1 | -1]> = (desk, by) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return ok(desk);
  const plan = planOf(piece);
  const all = plan.parts.flatMap(part => statementsOf(plan, part.id));
  const index = all.findIndex(s => s.id === desk.session.selectedStatement);
  const next = all[Math.min(all.length - 1, Math.max(0, index < 0 ? 0 : index + by))];
  return next === undefined ? ok(desk) : selectStatement(desk, next.id);
};

/** One more part, with nothing to play yet. Problems: 'conflict' where there are as many as a page holds. */
export const addEmptyPart: Command<[instrument: InstrumentId]> = (desk, instrument) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return ok(desk);
  const added = addPart(planOf(piece), instrument);
  return added.ok ? changePlan(desk, `add a ${instrument}`, () => added.value.plan) : failed(added.problem);
};
