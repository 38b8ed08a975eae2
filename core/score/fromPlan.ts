import { ZERO } from '../foundation/fraction.ts';
import type { Motif } from '../motif/motif.ts';
import { INSTRUMENTS } from '../parts/instruments.ts';
import { statementName } from '../parts/naming.ts';
import { type Plan, statementsOf } from '../parts/plan.ts';
import { placeStatement, statementEnd } from '../parts/statement.ts';
import { barsNeeded, clefFor, engravePart } from './engrave.ts';
import type { Score } from './score.ts';

/** The score of a piece: everything the page, the sound and every file show. */
export const scoreOfPlan = (motif: Motif, plan: Plan, title: string, codeName: string): Score => {
  const lines = plan.parts.map(part => ({
    part,
    notes: statementsOf(plan, part.id).flatMap(s => placeStatement(motif, s)),
  }));
  const bars = Math.max(
    1,
    ...lines.map(line => barsNeeded(motif.metre, line.notes)),
    ...plan.statements.map(s => {
      const end = statementEnd(motif, s);
      return Math.ceil((end.n * motif.metre.unit) / (end.d * motif.metre.beats));
    }),
  );
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
    parts: lines.map(({ part, notes }) => ({
      id: part.id,
      name: INSTRUMENTS[part.instrument].name,
      short: INSTRUMENTS[part.instrument].short,
      instrument: part.instrument,
      clef: clefFor(notes, part.instrument),
      bars: engravePart(frame, notes),
    })),
    brackets: plan.statements.map(s => ({
      id: s.id,
      part: s.part,
      from: s.at,
      to: statementEnd(motif, s),
      text: statementName(motif, plan, s),
    })),
  };
};
