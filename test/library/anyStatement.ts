import fc from 'fast-check';
import { fraction } from '../../core/foundation/fraction.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import type { Accompaniment } from '../../core/plan/accompaniment.ts';
import { NOTE_MARKS } from '../../core/plan/noteMarks.ts';
import type { Statement } from '../../core/plan/statement.ts';

const steps = (most: number): fc.Arbitrary<number[]> =>
  fc.array(fc.integer({ min: -60, max: 60 }), { minLength: 1, maxLength: most });
const accompaniment: fc.Arbitrary<Accompaniment> = fc.oneof(
  fc.record(
    {
      kind: fc.constant('drone' as const),
      figure: fc.constantFrom('simple', 'broken', 'crossover'),
      steps: steps(2),
    },
    { noNullPrototype: true },
  ),
  fc.record({ kind: fc.constant('chord' as const), steps: steps(4) }, { noNullPrototype: true }),
  fc.record(
    { kind: fc.constant('ending' as const), steps: steps(4), closed: fc.constant(true as const) },
    { noNullPrototype: true, requiredKeys: ['kind', 'steps'] },
  ),
);

const numbers = fc.array(fc.nat({ max: 40 }), { maxLength: 6 });
const variation: fc.Arbitrary<Treatment> = fc.oneof(
  fc.record({ kind: fc.constantFrom('pitches', 'lengths'), from: numbers }, { noNullPrototype: true }),
  fc.record(
    {
      kind: fc.constant('ornament' as const),
      ornaments: fc.array(
        fc.record(
          { note: fc.nat({ max: 40 }), figure: fc.constantFrom('twice', 'upper', 'lower', 'grace') },
          { noNullPrototype: true },
        ),
        { maxLength: 4 },
      ),
    },
    { noNullPrototype: true },
  ),
);

/** Statements with any of the fields a statement may have. */
export const anyStatement: fc.Arbitrary<Omit<Statement, 'id' | 'onset'>> = fc.record(
  {
    part: fc.constantFrom('p1', 'p2'),
    chain: fc.array(variation, { maxLength: 3 }),
    times: fc.integer({ min: 1, max: 9 }),
    leader: fc.constant('s1'),
    motif: fc.constant('2'),
    accompaniment,
    dynamic: fc.constantFrom('pp', 'p', 'mp', 'mf', 'f', 'ff'),
    articulation: fc.constantFrom('accent', 'staccato', 'tenuto'),
    hairpin: fc.constantFrom('crescendo', 'diminuendo'),
    slurred: fc.constant(true as const),
    pedalled: fc.constant(true as const),
    fermata: fc.constant(true as const),
    rolled: fc.constantFrom('last' as const, 'all' as const),
    noteMarks: fc.array(
      fc.record(
        { time: fc.nat({ max: 9 }), note: fc.nat({ max: 40 }), mark: fc.constantFrom(...NOTE_MARKS) },
        { noNullPrototype: true },
      ),
      { maxLength: 4 },
    ),
    ritardando: fc.constant(true as const),
    words: fc.string({ unit: 'binary', maxLength: 40 }),
  },
  { noNullPrototype: true, requiredKeys: ['part', 'chain', 'times'] },
);

/** Statements of a plan, one after the other. */
export const anyStatements: fc.Arbitrary<readonly Statement[]> = fc
  .array(anyStatement, { maxLength: 5 })
  .map(all =>
    all.map((statement, i) => ({ ...statement, id: `x${String(i)}`, onset: fraction(50 * (i + 1)) })),
  );
