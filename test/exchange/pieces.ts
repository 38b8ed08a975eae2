import { fraction } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';

const c = key('C', 'major pentatonic');
const note = (at: number, length: number, pitch: number, k = c): Motif['notes'][number] => ({
  onset: fraction(at, 48),
  duration: fraction(length, 48),
  ...toScale(k, pitch),
});

/** A syncopated bar with a tie over the half bar, a triplet and a note outside the scale. Places in 48ths of a semibreve. */
export const IDEA: Motif = {
  key: c,
  metre: metre(4, 4),
  length: fraction(1),
  notes: [
    note(0, 6, 72),
    note(6, 12, 76),
    note(18, 9, 79),
    note(27, 9, 78),
    note(36, 4, 81),
    note(40, 4, 79),
    note(44, 4, 76),
  ],
};

const steps: readonly Growth[] = [
  { kind: 'repeat', statement: 's1', times: 4 },
  { kind: 'canon', statement: 's1', to: { newPart: 'glockenspiel' }, beats: 1 },
  {
    kind: 'state',
    statement: 's1',
    treatments: [
      { kind: 'augment', factor: fraction(2) },
      { kind: 'transpose', by: 'scale', steps: 2 },
    ],
    to: { newPart: 'marimba' },
    onset: fraction(0),
    times: 2,
  },
  {
    kind: 'state',
    statement: 's1',
    treatments: [{ kind: 'diminish', factor: fraction(2) }],
    to: { newPart: 'vibraphone' },
    onset: fraction(1),
    times: 4,
  },
];

export const planOfFour = (): Plan =>
  steps.reduce<Plan>(
    (plan, step) => {
      const done = grow(IDEA, plan, step);
      if (!done.ok) throw new Error(done.problem.what);
      return done.value.plan;
    },
    firstPlan('xylophone', 92),
  );

/** Four parts: four statements, a canon, an augmentation up two steps, diminutions. */
export const pieceOfFour = (): Score =>
  scoreOfPlan(IDEA, { ...planOfFour(), letters: [{ bar: 1, letter: 'A' }] }, 'Ferry bell <&>', 'Heron');

/** The same idea in 6/8, 3/4 and 7/8, swung and straight. */
export const others = (): readonly Score[] => {
  const plain = (m: Motif): Score => scoreOfPlan(m, firstPlan('xylophone', 76), 'Idea', 'Wren');
  const quavers = (k = c): Motif['notes'] =>
    [0, 6, 12, 18, 24, 30].map((at, i) => note(at, 6, 72 + 2 * (i % 3), k));
  return [
    plain({ key: key('G'), metre: metre(6, 8), length: fraction(6, 8), notes: quavers(key('G')) }),
    plain({
      key: key('D', 'minor'),
      metre: metre(3, 4),
      length: fraction(3, 4),
      notes: quavers(key('D', 'minor')).slice(1, 5),
    }),
    plain({
      key: key('E', 'major', -1),
      metre: metre(7, 8),
      length: fraction(7, 8),
      notes: quavers(key('E', 'major', -1)),
    }),
    plain({ ...IDEA, swing: { ratio: 2, unit: fraction(1, 8) }, notes: quavers().slice(0, 4) }),
  ];
};
