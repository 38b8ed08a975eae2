import { ZERO } from '../foundation/fraction.ts';
import { isWritable, writable } from '../foundation/key.ts';
import { barStart } from '../foundation/metre.ts';
import type { Motif } from '../motif/motif.ts';
import { partName, partShort } from '../plan/partList.ts';
import { statementName } from '../plan/naming.ts';
import { type Plan, statementsOf } from '../plan/plan.ts';
import { notesOfStatement, statementEnd } from '../plan/statement.ts';
import { barsNeeded, clefFor, engravePart } from './engrave.ts';
import type { Score } from './score.ts';

/** The score of a piece: everything the page, the sound and every file show. */
export const scoreOfPlan = (idea: Motif, plan: Plan, title: string, codeName: string): Score => {
  const motif: Motif = isWritable(idea.key) ? idea : { ...idea, key: writable(idea.key) };
  const lines = plan.parts.map(part => ({
    part,
    notes: statementsOf(plan, part.id).flatMap(s => notesOfStatement(motif, s)),
  }));
  const bars = Math.max(
    1,
    ...lines.map(line => barsNeeded(motif.metre, line.notes)),
    ...plan.statements.map(s => {
      const end = statementEnd(motif, s);
      return Math.ceil((end.n * motif.metre.lower) / (end.d * motif.metre.upper));
    }),
  );
  const tempi = (plan.tempi ?? [])
    .filter(change => change.bar > 0 && change.bar < bars)
    .map(change => ({ at: barStart(motif.metre, change.bar), tempo: change.tempo }));
  const frame = { metre: motif.metre, key: motif.key, upbeat: ZERO, bars };
  return {
    title,
    codeName,
    metre: motif.metre,
    key: motif.key,
    tempo: plan.tempo,
    ...(motif.swing === undefined ? {} : { swing: motif.swing }),
    upbeat: ZERO,
    barCount: bars,
    letters: plan.letters,
    ...(tempi.length === 0 ? {} : { tempi }),
    parts: lines.map(({ part, notes }) => ({
      id: part.id,
      name: partName(plan, part),
      short: partShort(plan, part),
      instrument: part.instrument,
      clef: clefFor(notes, part.instrument),
      ...(part.balance === undefined ? {} : { balance: part.balance }),
      bars: engravePart(frame, notes),
    })),
    brackets: plan.statements.map(s => ({
      id: s.id,
      part: s.part,
      from: s.onset,
      to: statementEnd(motif, s),
      text: statementName(motif, plan, s),
    })),
  };
};
