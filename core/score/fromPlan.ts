import {
  add,
  atMost,
  compare,
  equal,
  larger,
  negate,
  smaller,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import { isWritable, keyName, writable } from '../foundation/key.ts';
import { barsUpTo, barStart, metreOfBar } from '../foundation/barring.ts';
import { barLength, tactus } from '../foundation/metre.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { Motif } from '../motif/motif.ts';
import { barringIn, keysInForce } from '../plan/keys.ts';
import { slowingStretch } from '../plan/marks.ts';
import { partName, partShort } from '../plan/partList.ts';
import type { PlacedNote } from '../plan/placed.ts';
import { statementName } from '../plan/naming.ts';
import { type Plan, statementsOf } from '../plan/plan.ts';
import { playedEnd } from '../plan/standing.ts';
import { notesOfStatement, statementEnd, statementStart } from '../plan/statement.ts';
import { clefFor, engravePart } from './engrave.ts';
import { holdsIn } from './holds.ts';
import { markMallets } from './malletMark.ts';
import { pedalsInTurn } from './pedals.ts';
import type { Score, TempoChange } from './score.ts';

/** What is marked stays with a statement that goes to another instrument and back. */
const withoutPedal = ({ pedal: _, pedalEnds: __, ...note }: PlacedNote): PlacedNote => note;

/** The score of a piece: everything the page, the sound and every file show. */
export const scoreOfPlan = (idea: Motif, plan: Plan, title: string, codeName: string): Score => {
  const motif: Motif = isWritable(idea.key) ? idea : { ...idea, key: writable(idea.key) };
  const lines = plan.parts.map(part => {
    const all = statementsOf(plan, part.id).flatMap(s => notesOfStatement(motif, s, plan));
    const notes = INSTRUMENTS[part.instrument].hasPedal === true ? all : all.map(withoutPedal);
    return { part, ...markMallets(part.instrument, part.mallet, notes) };
  });
  const barring = barringIn(motif, plan);
  const start = plan.statements.reduce((so, s) => smaller(so, statementStart(motif, s)), ZERO);
  const upbeat = negate(start);
  const last = playedEnd(motif, plan);
  const bars = Math.max(1, barsUpTo(barring, last));
  const end = barStart(barring, bars);
  const bar = barLength(metreOfBar(barring, bars - 1).metre);
  // What the upbeat takes before the first barline is left out of the last bar (common practice, no source).
  const short = subtract(bar, upbeat);
  const heard = lines
    .flatMap(line => line.notes)
    .reduce((so, n) => larger(so, add(n.onset, n.duration)), ZERO);
  const closes = upbeat.n > 0 && atMost(heard, subtract(end, upbeat));
  const before = upbeat.n > 0 ? 1 : 0;
  const tempi = (plan.tempi ?? [])
    .filter(change => change.bar > 0 && change.bar < bars)
    .map(({ bar: index, tempo }): TempoChange => {
      const beat = tactus(metreOfBar(barring, index).metre);
      const told = equal(beat, tactus(motif.metre)) ? {} : { beat };
      return { at: barStart(barring, index), tempo, ...told };
    });
  const metres = barring
    .filter(m => m.bar > 0 && m.bar < bars)
    .map(({ bar: index, metre }) => ({ bar: index + before, metre }));
  const metred = metres.length === 0 ? {} : { metres };
  const keys = keysInForce(motif, plan)
    .filter(
      (k, i, all) =>
        i > 0 && k.bar < bars && keyName(k.written) !== keyName(all[i - 1]?.written ?? motif.key),
    )
    .map(k => ({ bar: k.bar + before, key: k.written }));
  const keyed = keys.length === 0 ? {} : { keys };
  const slowings = plan.statements
    .filter(s => s.ritardando === true)
    .map(s => {
      const to = statementEnd(motif, s);
      // Its last bar is as long as those it sounds in.
      const { metre } = metreOfBar(barring, Math.max(0, barsUpTo(barring, to) - 1));
      return slowingStretch(statementStart(motif, s), to, barLength(metre));
    })
    .sort((a, b) => compare(a.from, b.from));
  const frame = {
    metre: motif.metre,
    ...metred,
    key: motif.key,
    ...keyed,
    upbeat,
    bars,
    ...(closes ? { last: short } : {}),
  };
  const parts = lines.map(({ part, notes, mallet }) => ({
    id: part.id,
    name: partName(plan, part),
    short: partShort(plan, part),
    instrument: part.instrument,
    clef: clefFor(notes, part.instrument),
    ...(part.balance === undefined ? {} : { balance: part.balance }),
    ...(mallet === undefined ? {} : { mallet }),
    bars: pedalsInTurn(engravePart(frame, notes)),
  }));
  const holds = holdsIn(parts);
  return {
    title,
    codeName,
    metre: motif.metre,
    ...metred,
    key: motif.key,
    ...keyed,
    tempo: plan.tempo,
    ...(motif.swing === undefined ? {} : { swing: motif.swing }),
    upbeat,
    barCount: bars + before,
    letters: plan.letters.map(l => ({ ...l, bar: l.bar + before })),
    ...(tempi.length === 0 ? {} : { tempi }),
    ...(slowings.length === 0 ? {} : { slowings }),
    ...(holds.length === 0 ? {} : { holds }),
    parts,
    brackets: plan.statements.map(s => ({
      id: s.id,
      part: s.part,
      from: statementStart(motif, s),
      to: smaller(statementEnd(motif, s), subtract(end, closes ? upbeat : ZERO)),
      text: statementName(motif, plan, s),
    })),
  };
};
