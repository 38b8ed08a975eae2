import { add, atMost, type Fraction, less, negate, subtract, ZERO } from '../foundation/fraction.ts';
import { named, type NoteName } from '../foundation/enharmonic.ts';
import { type Key, scaleMidi, toScaleAs } from '../foundation/key.ts';
import { inOrder, type Motif, type MotifNote, repitched, upbeatOf } from '../motif/motif.ts';
import { findStatement, type Plan } from '../plan/plan.ts';
import { passageOf, type Statement } from '../plan/statement.ts';

/** One change by hand of a note of a detached statement, named by its number in the statement. */
export type HandEdit =
  | { readonly kind: 'steps'; readonly note: number; readonly steps: number }
  | { readonly kind: 'move'; readonly note: number; readonly by: Fraction }
  | { readonly kind: 'length'; readonly note: number; readonly by: Fraction }
  | { readonly kind: 'respell'; readonly note: number; readonly name: NoteName }
  | { readonly kind: 'delete'; readonly note: number };

const change = (plan: Plan, id: string, to: (statement: Statement) => Statement): Plan => ({
  ...plan,
  statements: plan.statements.map(s => (s.id === id ? to(s) : s)),
});

/**
 * A statement untied from the motif, with the notes it has now as its own.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * detach(idea, plan, 's1').statements[0].detached // => idea.notes
 */
export const detach = (motif: Motif, plan: Plan, id: string): Plan =>
  change(plan, id, s => (s.detached === undefined ? { ...s, detached: passageOf(motif, s).notes } : s));

/**
 * A statement tied to the motif again; what was changed by hand in it is given up.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * retie(detach(idea, plan, 's1'), 's1') // => plan
 */
export const retie = (plan: Plan, id: string): Plan =>
  change(plan, id, s => {
    const { detached: _, ...tied } = s;
    return tied;
  });

const edited = (
  k: Key,
  notes: readonly MotifNote[],
  start: Fraction,
  end: Fraction,
  edit: HandEdit,
): readonly MotifNote[] => {
  const note = notes[edit.note];
  if (note === undefined) return notes;
  const others = notes.filter((_, i) => i !== edit.note);
  const put = (next: MotifNote): readonly MotifNote[] => {
    const stops = add(next.onset, next.duration);
    const inside = atMost(start, next.onset) && atMost(stops, end) && less(ZERO, next.duration);
    return inside ? inOrder([...others, next]) : notes;
  };
  switch (edit.kind) {
    case 'steps':
      return put(repitched(note, ({ degree, alter }) => ({ degree: degree + edit.steps, alter })));
    case 'move': {
      const onset = add(note.onset, edit.by);
      const room = subtract(end, onset);
      return put({ ...note, onset, duration: less(room, note.duration) ? room : note.duration });
    }
    case 'length':
      return put({ ...note, duration: add(note.duration, edit.by) });
    case 'respell': {
      const spelled = named(scaleMidi(k, note), edit.name);
      // Its letter decides where it goes when it is moved by steps.
      return spelled === undefined ? notes : put({ ...note, ...toScaleAs(k, spelled), name: edit.name });
    }
    case 'delete':
      return others;
  }
};

/**
 * One note of a statement changed by hand; a statement still tied to the motif is untied first. A
 * change that would leave the statement's own length changes nothing.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const edited = editByHand(idea, plan, 's1', { kind: 'steps', note: 0, steps: 2 });
 * edited.statements[0].detached[0].degree // => 30
 */
export const editByHand = (motif: Motif, plan: Plan, id: string, edit: HandEdit): Plan => {
  const untied = detach(motif, plan, id);
  const statement = findStatement(untied, id);
  if (statement?.detached === undefined) return plan;
  const passage = passageOf(motif, statement);
  const start = negate(upbeatOf(passage));
  const notes = edited(motif.key, statement.detached, start, add(start, passage.length), edit);
  return notes === statement.detached ? plan : change(untied, id, s => ({ ...s, detached: notes }));
};
