import fc from 'fast-check';
import { add, type Fraction, fraction, negate, times } from '../../core/foundation/fraction.ts';
import { barLength, METRES_TO_CHOOSE } from '../../core/foundation/metre.ts';
import { lastNotes } from '../../core/growing/ending.ts';
import type { Growth, Target } from '../../core/growing/growth.ts';
import { barAfter, lastBar } from '../../core/growing/sections.ts';
import { INSTRUMENT_IDS } from '../../core/instruments/instruments.ts';
import { type Motif, type Passage, upbeatOf } from '../../core/motif/motif.ts';
import { countMoments } from '../../core/motif/vary.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { passageOf } from '../../core/plan/statement.ts';

/** A step of growing, told by numbers: any of them means something for any piece. */
export interface Drawn {
  readonly kind: (typeof KINDS)[number];
  readonly which: number;
  readonly how: number;
  readonly postpone: boolean;
}

/** Every kind of step that a card takes. */
export const KINDS = [
  'repeat',
  'second-part',
  'canon',
  'imitation',
  'change',
  'state',
  'sequence',
  'drone',
  'section',
  'exchange',
  'ending',
  'key',
  'metre',
] as const;

export const anyDrawn: fc.Arbitrary<Drawn> = fc.record({
  kind: fc.constantFrom(...KINDS),
  which: fc.nat({ max: 999 }),
  how: fc.nat({ max: 999 }),
  postpone: fc.boolean(),
});

const backwards = (count: number): readonly number[] =>
  Array.from({ length: count }, (_, i) => count - 1 - i);
const FACTORS: readonly Fraction[] = [fraction(2), fraction(3, 2), fraction(3), fraction(4)];
const FIGURES = ['twice', 'upper', 'lower', 'grace'] as const;

const treatmentOf = (how: number, passage: Passage): Treatment => {
  const factor = FACTORS[how % 4] ?? fraction(2);
  const from = negate(upbeatOf(passage));
  const all: readonly Treatment[] = [
    { kind: 'retrograde' },
    { kind: 'invert', by: 'scale' },
    { kind: 'augment', factor },
    { kind: 'diminish', factor },
    { kind: 'transpose', by: 'scale', steps: 1 + (how % 4) },
    { kind: 'transpose', by: 'semitone', steps: 1 + (how % 4) },
    { kind: 'octave', octaves: 1 },
    { kind: 'fragment', from, to: add(from, fraction(1 + (how % 4), 4)) },
    { kind: 'lengths', from: backwards(countMoments(passage)) },
    { kind: 'pitches', from: backwards(passage.notes.length) },
    { kind: 'ornament', ornaments: [{ note: 0, figure: FIGURES[how % 4] ?? 'twice' }] },
  ];
  return all[how % all.length] ?? { kind: 'retrograde' };
};

/** The step in a piece as it is. */
export const stepIn = (motif: Motif, plan: Plan, { kind, which, how }: Drawn): Growth => {
  const [first] = plan.statements;
  const from = plan.statements[which % plan.statements.length] ?? first;
  if (from === undefined) throw new Error('a piece has a statement');
  const statement = from.id;
  const part = plan.parts[how % plan.parts.length]?.id ?? from.part;
  const isNew = plan.parts.length < 4 && how % 3 !== 0;
  const to: Target = isNew ? { newPart: INSTRUMENT_IDS[how % 4] ?? 'marimba' } : { part };
  const last = lastBar(motif, plan);
  const bar = 2 + (how % Math.max(1, last - 1));
  const treatment = treatmentOf(how, passageOf(motif, from));
  const metre = METRES_TO_CHOOSE[how % METRES_TO_CHOOSE.length] ?? motif.metre;
  switch (kind) {
    case 'repeat':
      return { kind, statement, times: 1 + (how % 4) };
    case 'second-part':
      return { kind, statement, to, bar: 1 + (how % last) };
    case 'canon':
      return { kind, statement, to, beats: 1 + (how % 3) };
    case 'imitation':
      return { kind, statement, to, beats: 1 + (how % 3), steps: 2 };
    case 'change':
      return { kind, statement, treatments: [treatment] };
    case 'state': {
      const onset = times(barLength(motif.metre), how % (last + 1));
      return { kind, statement, treatments: [treatment], to, onset };
    }
    case 'sequence':
      return { kind, statement, steps: 1, copies: 1 + (how % 2) };
    case 'drone': {
      const what = { kind: 'drone', figure: 'broken', steps: [21, 25] } as const;
      return { kind: 'accompany', statement, what, to, bar: 1, bars: last };
    }
    case 'section': {
      const copies = 1 + (how % 2);
      const toBar = barAfter(motif, plan, 1);
      return { kind, from: 1, to: last, toBar, copies, steps: how % 2, letter: true };
    }
    case 'exchange':
      return { kind, from: 1, to: 1 + (how % last), pair: [plan.parts[0]?.id ?? part, part] };
    case 'ending': {
      const steps = plan.parts.map(p => [p.id, lastNotes(motif, plan, p.id).usual.step] as const);
      return { kind, statement, steps: Object.fromEntries(steps) };
    }
    case 'key':
      return { kind, statement, bar, to: { moved: 2 + (how % 5) } };
    case 'metre':
      return { kind, statement, bar, to: metre };
  }
};
