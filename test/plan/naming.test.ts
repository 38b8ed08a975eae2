import { describe, expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { statementName, treatmentName, treatmentsUsed } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import type { Statement } from '../../core/plan/statement.ts';
import { IDEA } from './motifs.ts';

const up = (steps: number): Treatment => ({ kind: 'transpose', by: 'scale', steps });
const octave = (octaves: number): Treatment => ({ kind: 'octave', octaves });
const turn: Treatment = { kind: 'invert', by: 'scale' };
const back: Treatment = { kind: 'retrograde' };
const twice: Treatment = { kind: 'augment', factor: fraction(2) };

// Trade words for what is done to a motif (common practice, no source).
it.each<[Treatment, string]>([
  [up(1), 'up one step'],
  [up(-2), 'down two steps'],
  [up(13), 'up 13 steps'],
  [{ kind: 'transpose', by: 'semitone', steps: 1 }, 'up one semitone'],
  [{ kind: 'transpose', by: 'semitone', steps: -12 }, 'down twelve semitones'],
  [octave(1), 'up an octave'],
  [octave(-1), 'down an octave'],
  [octave(2), 'up two octaves'],
  [octave(-2), 'down two octaves'],
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
  // A canon is exact imitation at the unison or octave, entering later while the leader goes on; any other
  // height or form is imitation; a sequence goes straight on in the same part at another height (common
  // practice, no source).
  it.each<[string, Partial<Statement>, Partial<Statement>]>([
    ['second part, in unison', {}, {}],
    ['second part, at the octave', { chain: [octave(-1)] }, {}],
    ['second part, up two steps', { chain: [up(2)] }, {}],
    ['second part, down four steps', { chain: [up(-4)] }, {}],
    ['second part, up nine steps', { chain: [octave(1), up(2)] }, {}],
    ['second part, in unison, twice', { onset: fraction(1), times: 2 }, { times: 4 }],
    ['inversion', { chain: [turn] }, {}],
    ['canon, two beats later', { onset: fraction(1, 2) }, {}],
    ['canon, two beats later', { onset: fraction(1, 2), chain: [octave(1)] }, {}],
    ['canon, two beats later', { onset: fraction(1, 2), chain: [up(7)] }, {}],
    ['canon, two beats later, changed by hand', { onset: fraction(1, 2), detached: IDEA.notes }, {}],
    ['imitation, two beats later, up four steps', { onset: fraction(1, 2), chain: [up(4)] }, {}],
    ['imitation, two beats later, down one step', { onset: fraction(1, 2), chain: [up(-1)] }, {}],
    ['imitation by inversion, two beats later', { onset: fraction(1, 2), chain: [turn] }, {}],
    [
      'imitation by inversion, two beats later, up three steps',
      { onset: fraction(1, 2), chain: [turn, up(3)] },
      {},
    ],
    [
      'imitation by augmentation and retrograde, one beat later',
      { onset: fraction(1, 4), chain: [twice, back] },
      {},
    ],
    ['imitation by retrograde inversion, one beat later', { onset: fraction(1, 4), chain: [back, turn] }, {}],
    [
      'imitation by up one semitone, one beat later',
      { onset: fraction(1, 4), chain: [{ kind: 'transpose', by: 'semitone', steps: 1 }] },
      {},
    ],
    ['canon, one beat later (retrograde)', { onset: fraction(1, 4), chain: [back] }, { chain: [back] }],
    [
      'imitation, one beat later, down two steps (up two steps)',
      { onset: fraction(1, 4) },
      { chain: [up(2)] },
    ],
    ['canon, five beats later', { onset: fraction(5, 4) }, { times: 2 }],
    ['sequence, up one step', { part: 'p1', onset: fraction(1), chain: [up(1)] }, {}],
    [
      'sequence, down two steps, three times',
      { part: 'p1', onset: fraction(1), chain: [up(-2)], times: 3 },
      {},
    ],
    ['up one step', { onset: fraction(1), chain: [up(1)] }, {}],
    ['up one step', { part: 'p1', onset: fraction(2), chain: [up(1)] }, {}],
    ['the motif', { part: 'p1', onset: fraction(1) }, {}],
    ['the motif', {}, { onset: fraction(1, 2) }],
    ['the motif, twice', { times: 2 }, { onset: fraction(1) }],
    ['the motif, 9 times', { onset: fraction(3), times: 9 }, {}],
    ['the motif, eight times', { onset: fraction(3), times: 8 }, {}],
    ['motif B', { motif: 'B' }, {}],
    ['motif B: inversion, up one step, twice', { motif: 'B', chain: [turn, up(1)], times: 2 }, {}],
    ['the motif', {}, { motif: 'B' }],
    ['canon, one beat later', { motif: 'B', onset: fraction(1, 4) }, { motif: 'B' }],
    ['retrograde inversion', { onset: fraction(3), chain: [turn, back] }, {}],
    [
      'augmentation, retrograde inversion, up one step',
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
    const five: Motif = { ...IDEA, key: k, notes: IDEA.notes.map(n => ({ ...n, ...toScale(k, 72) })) };
    expect(nameIn(pair({ onset: fraction(1, 4), chain: [up(5)] }), five)).toBe('canon, one beat later');
    expect(nameIn(pair({ onset: fraction(1, 4), chain: [up(7)] }), five)).toContain('imitation');
  });

  it.each([
    ['4/4', fraction(1, 8), 'half a beat'],
    ['4/4', fraction(3, 8), 'one and a half beats'],
    ['4/4', fraction(7, 4), 'seven beats'],
    ['4/4', fraction(1, 12), '0.33 beats'],
    ['3/4', fraction(3, 4), 'one bar'],
    ['3/4', fraction(3, 2), 'two bars'],
    ['6/8', fraction(3, 8), 'one beat'],
    ['6/8', fraction(3, 16), 'half a beat'],
    ['6/8', fraction(9, 8), 'three beats'],
    // Beats of three quavers and of two.
    ['5/8', fraction(3, 8), 'one beat'],
    ['5/8', fraction(1, 2), 'one and a half beats'],
    ['5/8', fraction(1), 'three beats'],
  ] as const)('in %s, %o later is %s', (text, onset, said) => {
    const [upper = 4, lower = 4] = text.split('/').map(Number);
    const long: Motif = { ...IDEA, metre: metre(upper, lower), length: fraction(31, 7) };
    expect(nameIn(pair({ onset }), long)).toBe(`canon, ${said} later`);
  });
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
