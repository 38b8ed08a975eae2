import { describe, expect, it } from 'vitest';
import { type Fraction, fraction, show, ZERO } from '../../core/foundation/fraction.ts';
import type { Growth } from '../../core/growing/growth.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { statementStart } from '../../core/plan/statement.ts';
import { IDEA } from '../plan/motifs.ts';
import { FIRST, to, at, planOf, grown, refused, UPBEAT } from './steps.ts';

describe('where and how an entry answers', () => {
  it('a second part enters at its bar, at its octave, as often as there is room beside its leader', () => {
    const four = grown({ kind: 'repeat', statement: 's1', times: 4 }).plan;
    const { made } = grown({ kind: 'second-part', statement: 's1', to, bar: 2, octaves: -1 }, four);
    expect([show(made.onset), made.times, made.chain, made.leader]).toEqual([
      '1',
      3,
      [{ kind: 'octave', octaves: -1 }],
      's1',
    ]);
  });

  it.each<[Growth, Fraction, readonly Treatment[]]>([
    [{ kind: 'canon', statement: 's1', to, beats: 3 }, fraction(3, 4), []],
    [{ kind: 'canon', statement: 's1', to, beats: 1, octaves: 0 }, fraction(1, 4), []],
    [
      { kind: 'canon', statement: 's1', to, beats: 1, octaves: 1, also: [{ kind: 'retrograde' }] },
      fraction(1, 4),
      [{ kind: 'octave', octaves: 1 }, { kind: 'retrograde' }],
    ],
    [
      { kind: 'imitation', statement: 's1', to, beats: 2, steps: 4 },
      fraction(1, 2),
      [{ kind: 'transpose', by: 'scale', steps: 4 }],
    ],
    [
      { kind: 'imitation', statement: 's1', to, beats: 2, steps: 0, also: [{ kind: 'retrograde' }] },
      fraction(1, 2),
      [{ kind: 'retrograde' }],
    ],
    [
      { kind: 'second-part', statement: 's1', to, bar: 1, also: [{ kind: 'invert', by: 'scale' }] },
      ZERO,
      [{ kind: 'invert', by: 'scale' }],
    ],
  ])('%j', (step, onset, chain) => {
    const { made, plan } = grown(step);
    expect([made.onset, made.chain, made.times, made.leader]).toEqual([onset, chain, 1, 's1']);
    expect(plan.parts.find(p => p.id === made.part)?.instrument).toBe('marimba');
    expect(plan.statements[0]).toEqual(FIRST.statements[0]);
  });

  it('a mark of loudness stays where it was written', () => {
    const loud = planOf(at('s1', 'p1', ZERO, { dynamic: 'f', articulation: 'accent' }));
    const { made } = grown({ kind: 'canon', statement: 's1', to: { part: 'p2' }, beats: 1 }, loud);
    expect([made.dynamic, made.articulation]).toEqual([undefined, 'accent']);
    const next = grown({ kind: 'sequence', statement: 's1', steps: 1, copies: 1 }, loud).made;
    expect([next.dynamic, next.articulation]).toEqual([undefined, 'accent']);
  });

  it('a sequence goes straight on, each copy from the one before', () => {
    const { plan } = grown({ kind: 'sequence', statement: 's1', steps: -2, copies: 3 });
    const copies = plan.statements.slice(1);
    expect(copies.map(s => show(s.onset))).toEqual(['1', '2', '3']);
    expect(copies.map(s => s.leader)).toEqual(['s1', ...copies.slice(0, 2).map(s => s.id)]);
    expect(copies.map(s => s.chain.length)).toEqual([1, 2, 3]);
  });

  it('a change treats the statement further where it stands', () => {
    const { made } = grown({ kind: 'change', statement: 's1', treatments: [{ kind: 'retrograde' }] });
    expect(made).toEqual({ ...FIRST.statements[0], chain: [{ kind: 'retrograde' }] });
  });

  it('another motif enters by itself, and the first too', () => {
    const two = { ...IDEA, others: { B: IDEA } };
    const b = grown(
      { kind: 'motif', statement: 's1', motif: 'B', onset: fraction(2), to: { part: 'p1' } },
      FIRST,
      two,
    );
    expect(b.made).toMatchObject({ motif: 'B', chain: [], times: 1, part: 'p1' });
    expect(b.made).not.toHaveProperty('leader');
    const a = grown({ kind: 'motif', statement: b.made.id, onset: fraction(3), to }, b.plan, two);
    expect(a.made).not.toHaveProperty('motif');
  });

  it('a statement moves in time, and to another part when one is named', () => {
    const plan = planOf(at('s1', 'p1', ZERO), at('s2', 'p1', fraction(2), { leader: 's1' }));
    expect(grown({ kind: 'move', statement: 's1', onset: fraction(5) }, plan).made).toEqual(
      at('s1', 'p1', fraction(5)),
    );
    expect(grown({ kind: 'move', statement: 's2', onset: ZERO, part: 'p2' }, plan).made).toEqual(
      at('s2', 'p2', ZERO, { leader: 's1' }),
    );
  });

  it.each(['cut', 'postpone'] as const)(
    'what follows it follows it still when it is moved and others %s',
    choice => {
      const plan = planOf(
        at('s1', 'p1', ZERO),
        at('s2', 'p2', fraction(1, 4), { leader: 's1' }),
        at('s3', 'p1', fraction(4), { leader: 's2' }),
      );
      const moved = grown({ kind: 'move', statement: 's1', onset: fraction(4) }, plan, IDEA, choice);
      const s2 = moved.plan.statements.find(s => s.id === 's2');
      expect(s2?.leader).toBe('s1');
      expect(moved.plan.statements.find(s => s.id === 's3')?.leader).toBe(
        choice === 'cut' ? undefined : 's2',
      );
      expect(show(moved.made.onset)).toBe(choice === 'cut' ? '4' : '5');
    },
  );

  it('an upbeat keeps its room: it waits for the whole of it, and may begin before bar 1', () => {
    const plan = planOf(at('s1', 'p1', ZERO));
    const [first] = plan.statements;
    expect(first && show(statementStart(UPBEAT, first))).toBe('-1/4');
    const waited = grown(
      { kind: 'state', statement: 's1', treatments: [], to: { part: 'p1' }, onset: fraction(1, 2) },
      plan,
      UPBEAT,
      'postpone',
    );
    expect(show(statementStart(UPBEAT, waited.made))).toBe('3/4');
    expect(show(waited.made.onset)).toBe('1');
  });
});

describe('what makes no sense is refused in words', () => {
  const number = 'out-of-range: That number cannot be used here.';
  it.each<[Growth, string]>([
    [{ kind: 'repeat', statement: 's1', times: 0 }, `${number} Choose 1 to 64 times.`],
    [{ kind: 'repeat', statement: 's1', times: 65 }, `${number} Choose 1 to 64 times.`],
    [{ kind: 'repeat', statement: 's1', times: 1.5 }, `${number} Choose 1 to 64 times.`],
    [{ kind: 'canon', statement: 's1', to, beats: 0 }, `${number} Choose at least one beat later.`],
    [
      { kind: 'imitation', statement: 's1', to, beats: 0, steps: 1 },
      `${number} Choose at least one beat later.`,
    ],
    [
      { kind: 'sequence', statement: 's1', steps: 0, copies: 1 },
      `${number} Choose one step or more, and 1 to 16 copies.`,
    ],
    [
      { kind: 'sequence', statement: 's1', steps: 1, copies: 17 },
      `${number} Choose one step or more, and 1 to 16 copies.`,
    ],
    [
      { kind: 'sequence', statement: 's1', steps: 1, copies: 0 },
      `${number} Choose one step or more, and 1 to 16 copies.`,
    ],
    [{ kind: 'move', statement: 's1', onset: fraction(-1, 8) }, `${number} Choose a position from bar 1 on.`],
    [
      { kind: 'repeat', statement: 's9', times: 2 },
      'not-found: That statement is no longer in the piece. Choose a bracket on the page and try again.',
    ],
    [
      { kind: 'canon', statement: 's1', to: { part: 'p9' }, beats: 1 },
      'not-found: That part is no longer in the piece. Choose another part.',
    ],
    [
      { kind: 'state', statement: 's1', treatments: [], to, onset: fraction(-1) },
      'out-of-range: It would begin a whole bar or more before bar 1. Let it enter at a later bar.',
    ],
    [
      { kind: 'section', from: 1, to: 1, toBar: 400, copies: 2, steps: 0, letter: false },
      'out-of-range: Those bars cannot be used here. Choose bars of the piece; it may grow to 400 bars.',
    ],
    [
      { kind: 'section', from: 2, to: 1, toBar: 4, copies: 1, steps: 0, letter: false },
      'out-of-range: Those bars cannot be used here. Choose bars of the piece; it may grow to 400 bars.',
    ],
    [
      { kind: 'section', from: 3, to: 4, toBar: 8, copies: 1, steps: 0, letter: false },
      'not-found: Nothing sounds in those bars. Choose bars in which something is played.',
    ],
    [
      { kind: 'section', from: 1, to: 1, toBar: 1, copies: 1, steps: 0, letter: false },
      'conflict: Something is played there already, until bar 2, beat 1. Begin at bar 2, after everything else.',
    ],
    [
      { kind: 'exchange', from: 1, to: 1, pair: ['p1', 'p1'] },
      'not-found: Nothing sounds in those bars. Choose bars in which something is played.',
    ],
    [
      { kind: 'exchange', from: 1, to: 1, pair: ['p1', 'p9'] },
      'not-found: That part is no longer in the piece. Choose another part.',
    ],
  ])('%j', (step, words) => {
    expect(refused(step)).toBe(words);
  });

  it('64 times, one beat and 16 copies are allowed', () => {
    expect(grown({ kind: 'repeat', statement: 's1', times: 64 }).made.times).toBe(64);
    expect(grown({ kind: 'sequence', statement: 's1', steps: 1, copies: 16 }).plan.statements).toHaveLength(
      17,
    );
    expect(grown({ kind: 'move', statement: 's1', onset: ZERO }).made.onset).toEqual(ZERO);
  });
});
