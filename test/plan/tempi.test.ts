import { expect, test } from 'vitest';
import { statementName } from '../../core/plan/naming.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { tempoFrom } from '../../core/plan/tempi.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { IDEA } from './motifs.ts';

test('a new metronome mark holds from its bar on; the same tempo again needs none', () => {
  const plan = tempoFrom(IDEA, tempoFrom(IDEA, firstPlan('xylophone', 90), 9, 120), 5, 60);
  expect(plan.tempi).toEqual([
    { bar: 4, tempo: 60 },
    { bar: 8, tempo: 120 },
  ]);
  expect(tempoFrom(IDEA, plan, 1, 100).tempo).toBe(100);
  expect(tempoFrom(IDEA, plan, 5, 90)).toMatchObject({ tempi: [{ bar: 8, tempo: 120 }] });
  expect(tempoFrom(IDEA, tempoFrom(IDEA, plan, 5, 90), 9, 90)).not.toHaveProperty('tempi');
});

const nameOf = (step: Growth): string => {
  const grown = grow(IDEA, firstPlan('xylophone', 90), step);
  if (!grown.ok) throw new Error(grown.problem.what);
  const { plan, statement } = grown.value;
  const made = plan.statements.find(s => s.id === statement);
  return made === undefined ? '' : statementName(IDEA, plan, made);
};
const to = { newPart: 'marimba' } as const;

test('names hold by definition (product.md): a canon changed is an imitation, half beats are said, both turns at once have a name', () => {
  expect(nameOf({ kind: 'canon', statement: 's1', to, beats: 1, octaves: 1 })).toBe('canon, one beat later');
  expect(
    nameOf({ kind: 'canon', statement: 's1', to, beats: 1, also: [{ kind: 'invert', by: 'scale' }] }),
  ).toBe('imitation by inversion, one beat later');
  expect(nameOf({ kind: 'state', statement: 's1', to, onset: fraction(3, 8), treatments: [] })).toBe(
    'canon, one and a half beats later',
  );
  expect(
    nameOf({
      kind: 'state',
      statement: 's1',
      to: { part: 'p1' },
      onset: fraction(3),
      treatments: [{ kind: 'retrograde' }, { kind: 'invert', by: 'scale' }],
    }),
  ).toBe('retrograde inversion');
});
