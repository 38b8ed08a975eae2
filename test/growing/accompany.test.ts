import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, equal, fraction, show, subtract, toNumber } from '../../core/foundation/fraction.ts';
import { isWritable, type Key, key, MODE_NAMES, scaleMidi } from '../../core/foundation/key.ts';
import { barLength, type Metre, metre } from '../../core/foundation/metre.ts';
import { LETTERS, modulo, pitchName } from '../../core/foundation/pitch.ts';
import { grow } from '../../core/growing/grow.ts';
import { lastBar } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import {
  type Accompaniment,
  accompanimentName,
  accompanimentPassage,
  type DroneFigure,
  spelledSteps,
  stepChoices,
} from '../../core/plan/accompaniment.ts';
import { statementName, treatmentsUsed } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { isWrittenExactly } from '../../core/score/writable.ts';

const C = key('C');
const told = (m: Metre, what: Accompaniment, k: Key = C): string =>
  accompanimentPassage(k, m, what)
    .notes.map(n => `${show(n.onset)}:${String(scaleMidi(k, n))}`)
    .join(' ');
const drone = (figure: DroneFigure, ...steps: number[]): Accompaniment => ({ kind: 'drone', figure, steps });
const motif: Motif = {
  key: C,
  metre: metre(4, 4),
  length: fraction(2),
  notes: [28, 30, 32, 30].map((degree, i) => ({
    onset: fraction(i, 2),
    duration: fraction(1, 2),
    degree,
    alter: 0,
  })),
};
const plan: Plan = {
  ...firstPlan('xylophone', 96),
  parts: [
    { id: 'p1', instrument: 'xylophone' },
    { id: 'p2', instrument: 'marimba' },
  ],
};

// The bordun of classroom playing: tonic and fifth, simple (together), broken (one after the other), crossover
// (low, high, the low one's octave with the left hand over the right, high): common practice, no source.
describe('a drone', () => {
  it.each([
    ['simple', metre(4, 4), '0:48 0:55 1/2:48 1/2:55'],
    ['broken', metre(4, 4), '0:48 1/4:55 1/2:48 3/4:55'],
    ['crossover', metre(4, 4), '0:48 1/4:55 1/2:60 3/4:55'],
    ['simple', metre(3, 4), '0:48 0:55'],
    ['broken', metre(3, 4), '0:48 1/4:55 1/2:48'],
    ['crossover', metre(3, 4), '0:48 1/4:55 1/2:60'],
    ['simple', metre(2, 4), '0:48 0:55 1/4:48 1/4:55'],
    ['broken', metre(2, 4), '0:48 1/8:55 1/4:48 3/8:55'],
    ['crossover', metre(2, 4), '0:48 1/8:55 1/4:60 3/8:55'],
    ['simple', metre(6, 8), '0:48 0:55 3/8:48 3/8:55'],
    ['broken', metre(6, 8), '0:48 1/8:55 1/4:48 3/8:48 1/2:55 5/8:48'],
    ['crossover', metre(6, 8), '0:48 1/8:55 1/4:60 3/8:48 1/2:55 5/8:60'],
    ['simple', metre(5, 8), '0:48 0:55 3/8:48 3/8:55'],
    ['broken', metre(5, 8), '0:48 1/8:55 1/4:48 3/8:48 1/2:55'],
  ] as const)('%s in %o', (figure, m, expected) => {
    expect(told(m, drone(figure, 21, 25))).toBe(expected);
  });

  it('of one note has one note, however it is struck', () => {
    for (const figure of ['simple', 'broken', 'crossover'] as const)
      expect(told(metre(4, 4), drone(figure, 22))).toBe('0:50 1/2:50');
  });

  it('is a bordun where it is tonic and fifth, else a drone', () => {
    const name = (k: Key, what: Accompaniment): string => accompanimentName(k, what);
    expect(name(C, drone('simple', 21, 25))).toBe('simple bordun, C and G');
    expect(name(key('A', 'minor'), drone('crossover', 21, 25))).toBe('crossover bordun, A and E');
    expect(name(C, drone('broken', 22, 26))).toBe('broken drone, D and A');
    expect(name(C, drone('simple', 21))).toBe('drone, C');
    // The fifth over the second degree of the minor mode is diminished, and over the seventh of the major.
    expect(name(C, drone('simple', 27, 31))).toBe('drone, B and F');
    expect(name(key('D', 'major', -1), drone('simple', 21, 25))).toBe('simple bordun, D♭ and A♭');
    expect(name(key('C', 'major pentatonic'), drone('simple', 21, 25))).toBe('simple bordun, C and G');
  });

  it('goes under the idea for as many bars as asked, names itself, and is one step', () => {
    const grown = grow(motif, plan, {
      kind: 'accompany',
      statement: 's1',
      what: drone('broken', 21, 25),
      to: { part: 'p2' },
      bar: 1,
      bars: 2,
    });
    if (!grown.ok) throw new Error(grown.problem.what);
    const made = grown.value.plan.statements.at(-1);
    if (made === undefined) throw new Error('nothing made');
    expect(grown.value.statement).toBe(made.id);
    expect(notesOfStatement(motif, made).map(n => pitchName(n.pitch))).toEqual(
      Array.from({ length: 4 }, () => ['C3', 'G3']).flat(),
    );
    expect(statementName(motif, grown.value.plan, made)).toBe('broken bordun, C and G, twice');
    expect(treatmentsUsed(motif, grown.value.plan)).toEqual(['bordun']);
    const again = grow(motif, grown.value.plan, {
      kind: 'change',
      statement: made.id,
      treatments: [{ kind: 'octave', octaves: 1 }],
    });
    expect(
      again.ok && again.value.plan.statements.map(s => statementName(motif, again.value.plan, s))[1],
    ).toBe('broken bordun, C and G, an octave higher, twice');
  });

  it('is refused where its part plays, and in bars there are not', () => {
    const step = {
      kind: 'accompany',
      statement: 's1',
      what: drone('simple', 21),
      to: { part: 'p1' },
      bar: 1,
      bars: 1,
    } as const;
    expect(grow(motif, plan, step)).toMatchObject({ ok: false, problem: { kind: 'conflict' } });
    for (const wrong of [{ bars: 0 }, { bar: 0 }, { bars: 4000 }, { what: drone('simple') }])
      expect(grow(motif, plan, { ...step, to: { part: 'p2' }, ...wrong }).ok).toBe(false);
  });
});

describe('a chord', () => {
  // Triads of the major scale: on its fourth degree F A C, on its fifth G B D; of A minor on the tonic A C E.
  it.each([
    [C, [24, 26, 28], 'chord, F A C', '0:53 0:57 0:60'],
    [C, [25, 27, 29], 'chord, G B D', '0:55 0:59 0:62'],
    [key('A', 'minor'), [21, 23, 25], 'chord, A C E', '0:57 0:60 0:64'],
    [key('C', 'major pentatonic'), [24, 26], 'chord, F A', '0:53 0:57'],
  ] as const)('%o', (k, steps, name, notes) => {
    const what: Accompaniment = { kind: 'chord', steps };
    expect([accompanimentName(k, what), told(metre(4, 4), what, k)]).toEqual([name, notes]);
  });
});

describe('an ending', () => {
  it('is one long note of every part, together, after all that sounds', () => {
    const grown = grow(motif, plan, { kind: 'ending', statement: 's1', steps: { p1: 28, p2: 25 } });
    if (!grown.ok) throw new Error(grown.problem.what);
    const made = grown.value.plan.statements.slice(1);
    expect(made.map(s => [s.part, show(s.onset)])).toEqual([
      ['p1', '2'],
      ['p2', '2'],
    ]);
    const score = scoreOfPlan(motif, grown.value.plan, '', '');
    const last = score.parts.map(p =>
      p.bars.at(-1)?.symbols.map(s => s.pitches.map(n => pitchName(n.spelled))),
    );
    expect(last).toEqual([[['C4']], [['G3']]]);
    expect(made.map(s => statementName(motif, grown.value.plan, s))[0]).toBe('ending, a long note');
    expect(grow(motif, plan, { kind: 'ending', statement: 's1', steps: {} }).ok).toBe(false);
  });

  it('comes after an upbeat’s shortened last bar too', () => {
    const upbeat: Motif = {
      ...motif,
      upbeat: fraction(1, 4),
      length: fraction(1),
      notes: [{ onset: fraction(-1, 4), duration: fraction(1), degree: 28, alter: 0 }],
    };
    const grown = grow(upbeat, plan, { kind: 'ending', statement: 's1', steps: { p1: 28 } });
    if (!grown.ok) throw new Error(grown.problem.what);
    expect(lastBar(upbeat, grown.value.plan)).toBe(2);
    expect(isWrittenExactly(scoreOfPlan(upbeat, grown.value.plan, '', ''))).toBe(true);
  });
});

describe('laws of accompaniments', () => {
  const keys = fc
    .record({
      letter: fc.constantFrom(...LETTERS),
      alter: fc.integer({ min: -1, max: 1 }),
      mode: fc.constantFrom(...MODE_NAMES),
    })
    .map(({ letter, alter, mode }) => key(letter, mode, alter))
    .filter(isWritable);
  const metres = fc.constantFrom(
    ...(
      [
        [2, 4],
        [3, 4],
        [4, 4],
        [5, 4],
        [2, 2],
        [3, 8],
        [5, 8],
        [6, 8],
        [7, 8],
        [9, 8],
        [12, 8],
      ] as const
    ).map(([upper, lower]) => metre(upper, lower)),
  );
  const whats: fc.Arbitrary<Accompaniment> = fc
    .record({
      figure: fc.constantFrom('simple', 'broken', 'crossover', 'chord', 'ending'),
      low: fc.integer({ min: 14, max: 35 }),
      other: fc.constantFrom(0, 2, 3, 4, 7),
    })
    .map(({ figure, low, other }): Accompaniment => {
      const steps = other === 0 ? [low] : [low, low + other];
      return figure === 'chord' || figure === 'ending'
        ? { kind: figure, steps }
        : { kind: 'drone', figure, steps };
    });

  it('fill a bar without a gap or an overlap, and sound no note that was not chosen', () => {
    fc.assert(
      fc.property(keys, metres, whats, (k, m, what) => {
        const { notes, length } = accompanimentPassage(k, m, what);
        expect(equal(length, barLength(m))).toBe(true);
        const starts = [...new Set(notes.map(n => toNumber(n.onset)))].sort((a, b) => a - b);
        expect(starts[0]).toBe(0);
        for (const note of notes) {
          const end = add(note.onset, note.duration);
          const next = starts.find(at => at > toNumber(note.onset)) ?? toNumber(length);
          expect(Math.abs(toNumber(end) - next)).toBeLessThan(1e-9);
          expect(subtract(length, end).n).toBeGreaterThanOrEqual(0);
        }
        const chosen = spelledSteps(k, what).map(p => modulo(LETTERS.indexOf(p.letter), 7));
        const grownPlan: Plan = {
          ...plan,
          statements: [{ id: 'a', part: 'p2', onset: fraction(0), chain: [], times: 2, accompaniment: what }],
        };
        const idea = { ...motif, key: k, metre: m };
        const score = scoreOfPlan(idea, grownPlan, '', '');
        expect(isWrittenExactly(score)).toBe(true);
        for (const symbol of score.parts[1]?.bars.flatMap(b => b.symbols) ?? [])
          for (const p of symbol.pitches) expect(chosen).toContain(LETTERS.indexOf(p.spelled.letter));
      }),
      { numRuns: 150 },
    );
  });

  it('notes to choose from are two octaves by name, the tonic under the idea in the middle', () => {
    const choices = stepChoices(key('D', 'major', -1), { ...motif, notes: motif.notes.slice(0, 1) });
    expect(choices).toHaveLength(15);
    expect(choices[7]?.name).toBe('D♭4');
  });
});
