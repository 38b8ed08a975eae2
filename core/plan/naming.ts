import { scaleSize } from '../foundation/key.ts';
import type { Motif } from '../motif/motif.ts';
import { accompanimentName, accompanimentTechnique } from './accompaniment.ts';
import { keysIn } from './keysOfStatement.ts';
import { findStatement, type Plan } from './plan.ts';
import { type Relation, relation } from './relation.ts';
import type { Statement } from './statement.ts';
import { chainNames, isMove, treatmentName } from './treatmentWords.ts';

const COUNTS = [
  '',
  'once',
  'twice',
  'three times',
  'four times',
  'five times',
  'six times',
  'seven times',
  'eight times',
];

const leaderOf = (plan: Plan, statement: Statement): Statement | undefined =>
  statement.leader === undefined ? undefined : findStatement(plan, statement.leader);

const related = (motif: Motif, plan: Plan, statement: Statement): Relation | undefined => {
  const leader = leaderOf(plan, statement);
  return leader === undefined ? undefined : relation(motif, plan, statement, leader);
};

/**
 * What a statement is, in trade words, as its bracket says it.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * statementName(idea, plan, plan.statements[0]) // => 'the motif'
 */
export const statementName = (motif: Motif, plan: Plan, statement: Statement): string => {
  const size = scaleSize(motif.key);
  const times =
    statement.times === 1 ? '' : `, ${COUNTS[statement.times] ?? `${String(statement.times)} times`}`;
  const untied = statement.detached === undefined ? '' : ', changed by hand';
  const relation = related(motif, plan, statement);
  if (relation !== undefined) {
    // How high the leader stands says nothing about the follower; what form it is in does.
    const forms = leaderOf(plan, statement)?.chain.filter(t => !isMove(t)) ?? [];
    const inherited = chainNames(forms, size).join(', ');
    return relation.text + (inherited === '' ? '' : ` (${inherited})`) + times + untied;
  }
  if (statement.accompaniment !== undefined) {
    const what = statement.accompaniment;
    // In another key it stands on other notes.
    const kinds = keysIn(motif, statement, plan).map(k => accompanimentName(k.sounds, what, k.written));
    const own = [[...new Set(kinds)].join(', then '), ...chainNames(statement.chain, size)];
    return own.join(', ') + times + untied;
  }
  const which = statement.motif === undefined ? '' : `motif ${statement.motif}`;
  const names = chainNames(statement.chain, size);
  if (names.length === 0) return `${which === '' ? 'the motif' : which}${times}${untied}`;
  return (which === '' ? '' : `${which}: `) + names.join(', ') + times + untied;
};

/**
 * The techniques a plan uses, each once, in the order they came, for the register.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * treatmentsUsed(idea, plan) // => []
 */
export const treatmentsUsed = (motif: Motif, plan: Plan): readonly string[] => {
  const used = plan.statements.flatMap(statement => {
    const technique = related(motif, plan, statement)?.technique;
    const moved = technique === undefined && statement.chain.some(isMove) ? ['transposition'] : [];
    const { accompaniment } = statement;
    if (accompaniment !== undefined)
      return keysIn(motif, statement, plan).map(k =>
        accompanimentTechnique(k.sounds, accompaniment, k.written),
      );
    return [
      ...(statement.times > 1 ? ['repetition'] : []),
      ...(technique === undefined ? moved : [technique]),
      ...statement.chain.filter(t => !isMove(t)).map(t => treatmentName(t)),
    ];
  });
  return [...new Set(used)];
};
