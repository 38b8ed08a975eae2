import { describe, expect, it } from 'vitest';
import { type Fraction, fraction, show, ZERO } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth, OnConflict } from '../../core/growing/growth.ts';
import {
  barsOfStatement,
  copySection,
  exchangeParts,
  lastBar,
  letteredAt,
  sectionsOf,
  toggleLetter,
} from '../../core/growing/sections.ts';
import { between, clearBetween, firstFree, splitAt } from '../../core/growing/split.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Treatment } from '../../core/motif/treatment.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { type Statement, statementEnd, statementStart } from '../../core/plan/statement.ts';
import { asText, IDEA, sounds } from '../plan/motifs.ts';

const FIRST = firstPlan('xylophone', 90);
const to = { newPart: 'marimba' } as const;
const at = (id: string, part: string, onset: Fraction, more: Partial<Statement> = {}): Statement => ({
  id,
  part,
  onset,
  chain: [],
  times: 1,
  ...more,
});
const planOf = (...statements: Statement[]): Plan => ({
  ...FIRST,
  parts: [
    { id: 'p1', instrument: 'xylophone' },
    { id: 'p2', instrument: 'marimba' },
  ],
  statements,
  nextId: 20,
});
const grown = (
  step: Growth,
  plan = FIRST,
  motif: Motif = IDEA,
  onConflict?: OnConflict,
): { made: Statement; plan: Plan } => {
  const done = grow(motif, plan, step, onConflict);
  if (!done.ok) throw new Error(done.problem.what);
  const made = done.value.plan.statements.find(s => s.id === done.value.statement);
  if (made === undefined) throw new Error('names a statement that is not there');
  return { made, plan: done.value.plan };
};
const refused = (step: Growth, plan = FIRST, motif: Motif = IDEA): string => {
  const done = grow(motif, plan, step);
  if (done.ok) throw new Error('was not refused');
  expect(done.problem.kept).toBe('Nothing was changed.');
  expect(done.problem.what).not.toBe('');
  expect(done.problem.next).not.toBe('');
  return `${done.problem.kind}: ${done.problem.what} ${done.problem.next}`;
};

/** The idea with its last crotchet before the barline instead. */
const UPBEAT: Motif = {
  ...IDEA,
  upbeat: fraction(1, 4),
  notes: IDEA.notes.map(n => ({ ...n, onset: { n: n.onset.n * (8 / n.onset.d) - 2, d: 8 } })),
};

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

describe('bars, letters and sections', () => {
  it('after Z come AA and BB; each bar once, in order', () => {
    const letters = letteredAt([3, 1, 3, ...Array.from({ length: 27 }, (_, i) => i + 10)]);
    expect(letters.map(l => l.letter).join(' ')).toMatch(/^A B C .* Y Z AA BB CC$/);
    expect(letters.slice(0, 3).map(l => l.bar)).toEqual([0, 2, 9]);
    expect(toggleLetter(toggleLetter(FIRST, 3), 3)).toEqual(FIRST);
    expect(toggleLetter(toggleLetter(FIRST, 3), 2).letters).toEqual([
      { bar: 1, letter: 'A' },
      { bar: 2, letter: 'B' },
    ]);
  });

  it('sections run from letter to letter; what comes before the first is the opening', () => {
    const plan = { ...planOf(at('s1', 'p1', ZERO, { times: 6 })), letters: letteredAt([3, 5, 9]) };
    expect(sectionsOf(IDEA, plan)).toEqual([
      { name: 'the opening', from: 1, to: 2 },
      { name: 'A', from: 3, to: 4 },
      { name: 'B', from: 5, to: 6 },
    ]);
    expect(sectionsOf(IDEA, { ...plan, letters: letteredAt([1, 6]) })).toEqual([
      { name: 'A', from: 1, to: 5 },
      { name: 'B', from: 6, to: 6 },
    ]);
  });

  it('a piece is as many bars as it sounds in, one at least', () => {
    expect(lastBar(IDEA, planOf())).toBe(1);
    expect(lastBar(IDEA, planOf(at('s1', 'p1', fraction(1, 4))))).toBe(2);
    expect(lastBar(IDEA, planOf(at('s1', 'p1', fraction(4))))).toBe(5);
    const three: Motif = { ...IDEA, metre: metre(3, 4), length: fraction(3, 4) };
    expect(lastBar(three, planOf(at('s1', 'p1', fraction(3, 4), { times: 3 })))).toBe(4);
  });

  it('a statement sounds in the bars from its barline to its end', () => {
    expect(barsOfStatement(IDEA, at('s1', 'p1', fraction(2), { times: 3 }))).toEqual({ from: 3, to: 5 });
    expect(barsOfStatement(IDEA, at('s1', 'p1', fraction(3, 4)))).toEqual({ from: 1, to: 2 });
    expect(barsOfStatement(UPBEAT, at('s1', 'p1', fraction(1)))).toEqual({ from: 2, to: 2 });
    expect(barsOfStatement({ ...IDEA, length: ZERO, notes: [] }, at('s1', 'p1', fraction(3)))).toEqual({
      from: 4,
      to: 4,
    });
  });

  it('a section copied twice a step higher each time, its parts exchanged, begins at a new letter', () => {
    const plan = {
      ...planOf(at('s1', 'p1', ZERO), at('s2', 'p2', ZERO, { times: 2, leader: 's1' })),
      letters: letteredAt([1]),
    };
    const done = copySection(IDEA, plan, {
      from: 1,
      to: 2,
      toBar: 5,
      copies: 2,
      steps: 1,
      exchange: ['p1', 'p2'],
      letter: true,
    });
    if (!done.ok) throw new Error(done.problem.what);
    const made = done.value.plan.statements.slice(2);
    expect(
      made.map(s => [
        s.part,
        show(s.onset),
        s.times,
        s.chain.map(t => (t.kind === 'transpose' ? t.steps : 0)),
        s.leader,
      ]),
    ).toEqual([
      ['p2', '4', 1, [1], undefined],
      ['p1', '4', 2, [1], 's20'],
      ['p2', '6', 1, [2], undefined],
      ['p1', '6', 2, [2], 's22'],
    ]);
    expect(done.value.statement).toBe(made[0]?.id);
    expect(done.value.plan.letters).toEqual(letteredAt([1, 5]));
    expect(done.value.plan.nextId).toBe(24);
    expect(new Set(done.value.plan.statements.map(s => s.id)).size).toBe(6);
  });

  it('only what lies in the bars is exchanged', () => {
    const plan = planOf(at('s1', 'p1', ZERO, { times: 3 }), at('s2', 'p2', fraction(4)));
    const done = exchangeParts(IDEA, plan, { from: 2, to: 2 }, ['p1', 'p2']);
    if (!done.ok) throw new Error(done.problem.what);
    expect(done.value.plan.statements.map(s => [s.part, show(s.onset), s.times])).toEqual([
      ['p1', '0', 1],
      ['p2', '1', 1],
      ['p1', '2', 1],
      ['p2', '4', 1],
    ]);
  });
});

describe('dividing a statement with an upbeat', () => {
  const three = at('s1', 'p1', fraction(1), { times: 3 });

  it('cuts where its upbeat begins, not at its barline', () => {
    const whole = between(UPBEAT, three, fraction(3, 4), fraction(7, 4));
    expect(whole).toEqual([{ part: 'p1', onset: fraction(1), times: 1, chain: [] }]);
    const divided = splitAt(UPBEAT, planOf(three), fraction(7, 4), ['p1']);
    expect(divided.statements.map(s => [show(s.onset), s.times, s.chain.length])).toEqual([
      ['1', 1, 0],
      ['2', 2, 0],
    ]);
  });

  it('sounds the same cut anywhere', () => {
    for (let eighth = 5; eighth < 32; eighth++) {
      const divided = splitAt(UPBEAT, planOf(three), fraction(eighth, 8), ['p1']);
      expect(asText(sounds(UPBEAT, divided))).toEqual(asText(sounds(UPBEAT, planOf(three))));
      for (const s of divided.statements) {
        const [start, end] = [statementStart(UPBEAT, s), statementEnd(UPBEAT, s)];
        const crossed = start.n * 8 < eighth * start.d && eighth * end.d < end.n * 8;
        expect(crossed).toBe(false);
      }
    }
  });

  it('the other part is left alone; a motif of no length has no pieces', () => {
    const plan = planOf(three, at('s2', 'p2', ZERO, { times: 3, leader: 's1' }));
    expect(splitAt(IDEA, plan, fraction(3, 2), ['p2']).statements[0]).toBe(three);
    expect(clearBetween(IDEA, plan, 'p1', ZERO, fraction(9)).statements).toEqual([
      at('s2', 'p2', ZERO, { times: 3 }),
    ]);
    expect(between({ ...IDEA, notes: [], length: ZERO }, three, ZERO, fraction(9))).toEqual([]);
  });

  it('the first free place is at an end of what stands there', () => {
    const plan = planOf(
      at('a', 'p1', fraction(3)),
      at('b', 'p1', fraction(1)),
      at('c', 'p2', ZERO, { times: 9 }),
    );
    const free = (from: Fraction, length: Fraction): string =>
      show(firstFree(IDEA, plan, 'p1', from, length));
    expect(free(ZERO, fraction(1))).toBe('0');
    expect(free(ZERO, fraction(5, 4))).toBe('4');
    expect(free(fraction(1, 2), fraction(1))).toBe('2');
    expect(free(fraction(2), fraction(1))).toBe('2');
    expect(free(fraction(4), fraction(9))).toBe('4');
  });
});
