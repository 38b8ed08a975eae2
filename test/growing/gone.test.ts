import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth, OnConflict } from '../../core/growing/growth.ts';
import { removePart } from '../../core/plan/partList.ts';
import { addStatement, changeStatement, removeStatement } from '../../core/plan/change.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { IDEA, plans } from '../plan/motifs.ts';

/** Names of parts and statements that may be there or not. */
const parts = fc.constantFrom('p1', 'p2', 'p9');
const statements = fc.constantFrom('s1', 's2', 's3', 's7', 's9');
const targets = fc.oneof(
  parts.map(part => ({ part })),
  fc.constant({ newPart: 'vibraphone' as const }),
);
const onsets = fc.integer({ min: 0, max: 32 }).map(n => fraction(n, 4));
const bars = fc.integer({ min: 1, max: 6 });
const growths: fc.Arbitrary<Growth> = fc.oneof(
  fc.record({
    kind: fc.constant('repeat' as const),
    statement: statements,
    times: fc.integer({ min: 1, max: 4 }),
  }),
  fc.record({
    kind: fc.constant('canon' as const),
    statement: statements,
    to: targets,
    beats: fc.integer({ min: 1, max: 4 }),
  }),
  fc.record({ kind: fc.constant('second-part' as const), statement: statements, to: targets, bar: bars }),
  fc.record({
    kind: fc.constant('sequence' as const),
    statement: statements,
    steps: fc.constant(1),
    copies: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({
    kind: fc.constant('state' as const),
    statement: statements,
    treatments: fc.constant([]),
    to: targets,
    onset: onsets,
  }),
  fc.record({ kind: fc.constant('move' as const), statement: statements, onset: onsets, part: parts }),
  fc.record({ kind: fc.constant('exchange' as const), pair: fc.tuple(parts, parts), from: bars, to: bars }),
  fc.record({
    kind: fc.constant('section' as const),
    from: fc.constant(1),
    to: bars,
    toBar: fc.integer({ min: 1, max: 20 }),
    copies: fc.integer({ min: 1, max: 2 }),
    steps: fc.constant(0),
    exchange: fc.tuple(parts, parts),
    letter: fc.boolean(),
  }),
);
const conflicts: fc.Arbitrary<OnConflict | undefined> = fc.constantFrom(undefined, 'cut', 'postpone');

const whole = (plan: Plan): void => {
  const ids = plan.statements.map(s => s.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const s of plan.statements) {
    expect(plan.parts.map(p => p.id)).toContain(s.part);
    if (s.leader !== undefined) expect(ids.filter(id => id !== s.id)).toContain(s.leader);
  }
};

test('law: however a plan is grown, no statement names a part or a leader that is gone', () => {
  fc.assert(
    fc.property(
      plans,
      fc.array(fc.tuple(growths, conflicts), { maxLength: 6 }),
      statements,
      parts,
      (start, steps, id, part) => {
        let plan = start;
        for (const [growth, onConflict] of steps) {
          const grown = grow(IDEA, plan, growth, onConflict);
          if (grown.ok) plan = grown.value.plan;
          whole(plan);
        }
        whole(removeStatement(plan, id));
        whole(removePart(plan, part));
      },
    ),
    { numRuns: 400 },
  );
});

test('a statement is not put where it names something gone', () => {
  const plan = firstPlan('xylophone', 90);
  const lost = { ok: false, problem: { kind: 'not-found' } };
  const more = { onset: fraction(4), chain: [], times: 1 };
  expect(addStatement(IDEA, plan, { ...more, part: 'p9' })).toMatchObject(lost);
  expect(addStatement(IDEA, plan, { ...more, part: 'p1', leader: 's9' })).toMatchObject(lost);
  expect(changeStatement(IDEA, plan, 's1', { part: 'p9' })).toMatchObject(lost);
  expect(changeStatement(IDEA, plan, 's1', { leader: 's1' })).toMatchObject(lost);
  expect(addStatement(IDEA, plan, { ...more, part: 'p1', leader: 's1' })).toMatchObject({ ok: true });
});
