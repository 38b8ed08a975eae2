import { describe, expect, it } from 'vitest';
import { type Fraction, fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { canonInterval, semitonesApart, stepsApart } from '../../core/plan/intervals.ts';
import { statementName, treatmentsUsed } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import type { Statement } from '../../core/plan/statement.ts';
import { treatmentName } from '../../core/plan/treatmentWords.ts';
import { IDEA } from './motifs.ts';

const up = (steps: number): Treatment => ({ kind: 'transpose', by: 'scale', steps });
const octave = (octaves: number): Treatment => ({ kind: 'octave', octaves });
const first = (to: Fraction): Treatment => ({ kind: 'fragment', from: ZERO, to });
const turn: Treatment = { kind: 'invert', by: 'scale' };
const back: Treatment = { kind: 'retrograde' };
const twice: Treatment = { kind: 'augment', factor: fraction(2) };

// Trade words for what is done to a motif (common practice, no source).
it.each<[Treatment, string]>([
  [up(1), 'a second higher'],
  [up(-2), 'a third lower'],
  [up(13), 'an octave and a seventh higher'],
  [{ kind: 'transpose', by: 'semitone', steps: 1 }, 'a semitone higher'],
  [{ kind: 'transpose', by: 'semitone', steps: -12 }, 'an octave lower'],
  [octave(1), 'an octave higher'],
  [octave(-1), 'an octave lower'],
  [octave(2), 'two octaves higher'],
  [octave(-2), 'two octaves lower'],
  [twice, 'augmentation'],
  [{ kind: 'augment', factor: fraction(3) }, 'augmentation by 3'],
  [{ kind: 'augment', factor: fraction(3, 2) }, 'augmentation by 3/2'],
  [{ kind: 'diminish', factor: fraction(2) }, 'diminution'],
  [{ kind: 'diminish', factor: fraction(4) }, 'diminution by 4'],
  [turn, 'inversion'],
  [{ kind: 'invert', by: 'semitone' }, 'real inversion'],
  [back, 'retrograde'],
  [{ kind: 'fragment', from: ZERO, to: fraction(1, 2) }, 'fragment'],
])('%j is %s', (treatment, name) => {
  expect(treatmentName(treatment)).toBe(name);
});

/** A plan of a leader and what follows it, each in a part of its own unless told otherwise. */
const pair = (follower: Partial<Statement>, leader: Partial<Statement> = {}): Plan => ({
  ...firstPlan('xylophone', 90),
  parts: [
    { id: 'p1', instrument: 'xylophone' },
    { id: 'p2', instrument: 'marimba' },
  ],
  statements: [
    { id: 's1', part: 'p1', onset: ZERO, chain: [], times: 1, ...leader },
    { id: 's2', part: 'p2', onset: ZERO, chain: [], times: 1, leader: 's1', ...follower },
  ],
});
const nameIn = (plan: Plan, motif: Motif = IDEA): string => {
  const [, follower] = plan.statements;
  return follower === undefined ? '' : statementName(motif, plan, follower);
};

describe('a follower is named by how it stands to its leader', () => {
  // Concise Oxford Dictionary of Music, 'canon': imitation note for note after a time, 'at the octave', 'at the
  // fifth'; strict where the intervals are the same in quality, free where only in number; 'by augmentation',
  // 'by inversion'. Free ones are called imitation, as classrooms do; a sequence goes straight on in the same
  // part (common practice, no source). Which are strict was worked out by hand from C5 E5 G5 E5 D5: a fifth
  // higher G B D B A keeps major third, fifth and tone; upside down from E it is E C A C D, the same.
  // A xylophone sounds an octave above a marimba that plays from the same page.
  it.each<[string, Partial<Statement>, Partial<Statement>]>([
    ['second part, at the octave', {}, {}],
    ['second part, in unison', { chain: [octave(1)] }, {}],
    ['second part, at the octave', { chain: [octave(-1)] }, {}],
    ['second part, a third higher', { chain: [up(2)] }, {}],
    ['second part, a fifth lower', { chain: [up(-4)] }, {}],
    ['second part, an octave and a third higher', { chain: [octave(1), up(2)] }, {}],
    ['second part, at the octave, twice', { onset: fraction(1), times: 2 }, { times: 4 }],
    ['inversion', { chain: [turn] }, {}],
    ['canon, two beats later', { onset: fraction(1, 2) }, {}],
    ['canon, two beats later', { onset: fraction(1, 2), chain: [octave(1)] }, {}],
    ['canon, two beats later', { onset: fraction(1, 2), chain: [up(7)] }, {}],
    ['canon, two beats later, changed by hand', { onset: fraction(1, 2), detached: IDEA.notes }, {}],
    ['canon at the fifth above, two beats later', { onset: fraction(1, 2), chain: [up(4)] }, {}],
    ['imitation, two beats later, a second lower', { onset: fraction(1, 2), chain: [up(-1)] }, {}],
    ['imitation by inversion, two beats later', { onset: fraction(1, 2), chain: [turn] }, {}],
    [
      'canon by inversion, two beats later, a third higher',
      { onset: fraction(1, 2), chain: [turn, up(2)] },
      {},
    ],
    [
      'canon by inversion, two beats later',
      { onset: fraction(1, 2), chain: [{ kind: 'invert', by: 'semitone' }] },
      {},
    ],
    [
      'canon by diminution, two beats later',
      { onset: fraction(1, 2), chain: [{ kind: 'diminish', factor: fraction(2) }] },
      {},
    ],
    ['canon at the fourth below, two beats later', { onset: fraction(1, 2), chain: [up(-3)] }, {}],
    ['canon at the twelfth above, two beats later', { onset: fraction(1, 2), chain: [octave(1), up(4)] }, {}],
    ['canon, two beats later, cut short', { onset: fraction(1, 2), chain: [first(fraction(1, 2))] }, {}],
    [
      'imitation of a fragment, two beats later',
      { onset: fraction(1, 2), chain: [{ kind: 'fragment', from: fraction(1, 2), to: fraction(1) }] },
      {},
    ],
    ['imitation, one bar later', { onset: fraction(1) }, {}],
    ['the motif', { onset: fraction(3), chain: [up(1), up(-1)] }, {}],
    ['a third higher', { onset: fraction(3), chain: [up(1), up(1)] }, {}],
    ['a third lower', { onset: fraction(3), chain: [octave(-1), up(5)] }, {}],
    // The leader's height says nothing about the follower.
    [
      'sequence, a second higher',
      { part: 'p1', onset: fraction(1), chain: [up(1), up(1)] },
      { chain: [up(1)] },
    ],
    [
      'imitation by inversion, two beats later, a fourth higher',
      { onset: fraction(1, 2), chain: [turn, up(3)] },
      {},
    ],
    [
      'canon by augmentation and retrograde, one beat later',
      { onset: fraction(1, 4), chain: [twice, back] },
      {},
    ],
    ['canon by retrograde inversion, one beat later', { onset: fraction(1, 4), chain: [back, turn] }, {}],
    [
      'canon at the second above, one beat later',
      { onset: fraction(1, 4), chain: [{ kind: 'transpose', by: 'semitone', steps: 1 }] },
      {},
    ],
    ['canon, one beat later (retrograde)', { onset: fraction(1, 4), chain: [back] }, { chain: [back] }],
    ['imitation, one beat later, a third lower', { onset: fraction(1, 4) }, { chain: [up(2)] }],
    ['canon, five beats later', { onset: fraction(5, 4) }, { times: 2 }],
    ['sequence, a second higher', { part: 'p1', onset: fraction(1), chain: [up(1)] }, {}],
    [
      'sequence, a third lower, three times',
      { part: 'p1', onset: fraction(1), chain: [up(-2)], times: 3 },
      {},
    ],
    ['imitation, one bar later, a second higher', { onset: fraction(1), chain: [up(1)] }, {}],
    ['a second higher', { part: 'p1', onset: fraction(2), chain: [up(1)] }, {}],
    ['the motif', { part: 'p1', onset: fraction(1) }, {}],
    ['the motif', {}, { onset: fraction(1, 2) }],
    ['the motif, twice', { times: 2 }, { onset: fraction(1) }],
    ['the motif, 9 times', { onset: fraction(3), times: 9 }, {}],
    ['the motif, eight times', { onset: fraction(3), times: 8 }, {}],
    ['motif B', { motif: 'B' }, {}],
    ['motif B: inversion, a second higher, twice', { motif: 'B', chain: [turn, up(1)], times: 2 }, {}],
    ['the motif', {}, { motif: 'B' }],
    ['canon, one beat later', { motif: 'B', onset: fraction(1, 4) }, { motif: 'B' }],
    ['retrograde inversion', { onset: fraction(3), chain: [turn, back] }, {}],
    [
      'augmentation, retrograde inversion, a second higher',
      { onset: fraction(3), chain: [twice, back, turn, up(1)] },
      {},
    ],
    ['inversion, augmentation, retrograde', { onset: fraction(3), chain: [turn, twice, back] }, {}],
    ['inversion, inversion', { onset: fraction(3), chain: [turn, turn] }, {}],
    [
      'real inversion, retrograde',
      { onset: fraction(3), chain: [{ kind: 'invert', by: 'semitone' }, back] },
      {},
    ],
  ])('%s', (name, follower, leader) => {
    expect(nameIn(pair(follower, leader), { ...IDEA, others: { B: IDEA } })).toBe(name);
  });

  it('in a scale of five, an octave is five steps', () => {
    const k = key('C', 'major pentatonic');
    const five: Motif = {
      ...IDEA,
      key: k,
      notes: IDEA.notes.map((n, i) => ({ ...n, ...toScale(k, [72, 76, 79, 76, 74][i] ?? 72) })),
    };
    expect(nameIn(pair({ onset: fraction(1, 4), chain: [up(5)] }), five)).toBe('canon, one beat later');
    expect(nameIn(pair({ onset: fraction(1, 4), chain: [up(7)] }), five)).toBe(
      'imitation, one beat later, an octave and two steps of the scale higher',
    );
  });

  it.each([
    ['4/4', fraction(1, 8), 'half a beat'],
    ['4/4', fraction(3, 8), 'one and a half beats'],
    ['4/4', fraction(7, 4), 'seven beats'],
    ['4/4', fraction(1, 12), 'a third of a beat'],
    ['3/4', fraction(3, 4), 'one bar'],
    ['3/4', fraction(3, 2), 'two bars'],
    ['6/8', fraction(3, 8), 'one beat'],
    ['6/8', fraction(3, 16), 'half a beat'],
    ['6/8', fraction(1, 8), 'one quaver'],
    ['6/8', fraction(1, 2), 'four quavers'],
    ['6/8', fraction(9, 8), 'three beats'],
    // Beats of three quavers and of two.
    ['5/8', fraction(3, 8), 'one beat'],
    ['5/8', fraction(1, 2), 'four quavers'],
    ['5/8', fraction(1), 'three beats'],
  ] as const)('in %s, %o later is %s', (text, onset, said) => {
    const [upper = 4, lower = 4] = text.split('/').map(Number);
    const long: Motif = { ...IDEA, metre: metre(upper, lower), length: fraction(31, 7) };
    expect(nameIn(pair({ onset }), long)).toBe(`canon, ${said} later`);
  });
});

it('intervals are told by their numbers, with octaves beyond; a scale of five leaves letters out', () => {
  expect([0, 1, -2, 6, 7, -7, 8, 14, 15].map(k => stepsApart(k, 7))).toEqual([
    'at the same height',
    'a second higher',
    'a third lower',
    'a seventh higher',
    'an octave higher',
    'an octave lower',
    'an octave and a second higher',
    'two octaves higher',
    'two octaves and a second higher',
  ]);
  expect([1, 2, 5, -6].map(k => stepsApart(k, 5))).toEqual([
    'one step of the scale higher',
    'two steps of the scale higher',
    'an octave higher',
    'an octave and one step of the scale lower',
  ]);
  expect([0, 6, -7, 12, -14].map(semitonesApart)).toEqual([
    'at the same height',
    'a tritone higher',
    'a perfect fifth lower',
    'an octave higher',
    'an octave and a tone lower',
  ]);
  expect([canonInterval(7), canonInterval(-5), canonInterval(6, 4), canonInterval(31)]).toEqual([
    'at the fifth above',
    'at the fourth below',
    'at the fifth above',
    'at the twelfth above',
  ]);
});

describe('techniques for the register', () => {
  const used = (follower: Partial<Statement>, leader: Partial<Statement> = {}): readonly string[] =>
    treatmentsUsed({ ...IDEA, others: { B: IDEA } }, pair(follower, leader));

  it.each<[Partial<Statement>, readonly string[]]>([
    [{ onset: fraction(1, 4) }, ['canon']],
    [{ onset: fraction(1, 4), times: 2 }, ['repetition', 'canon']],
    [{ onset: fraction(3), chain: [up(-1)] }, ['transposition']],
    [{ onset: fraction(3), chain: [octave(1), twice] }, ['transposition', 'augmentation']],
    [{ onset: fraction(1), part: 'p1', chain: [up(1)] }, ['sequence']],
    [{ onset: fraction(1, 4), chain: [turn] }, ['imitation by inversion', 'inversion']],
    [{ onset: fraction(1, 4), chain: [up(4)] }, ['canon at the fifth above']],
    [{ onset: fraction(3), motif: 'B' }, []],
  ])('%j', (follower, wanted) => {
    expect(used(follower)).toEqual(wanted);
  });

  it('each once, without what a leader lends', () => {
    expect(used({ onset: fraction(1, 4), chain: [back] }, { chain: [back] })).toEqual([
      'retrograde',
      'canon',
    ]);
  });
});
