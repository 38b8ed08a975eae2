import { describe, expect, it } from 'vitest';
import { fraction, show, toNumber, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import { barAfter, copySection, exchangeParts, lastBar } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { likelyMotif, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { statementName } from '../../core/plan/naming.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { lineOf, silentBarsOf } from '../laws/anyUpbeat.ts';
import { IDEA } from '../plan/motifs.ts';
import { at, FIRST, grown, planOf, to } from './steps.ts';

/** Onsets in quavers of what a part strikes. */
const struck = (motif: Motif, plan: Plan, part: string): readonly number[] =>
  plan.statements
    .filter(s => s.part === part)
    .flatMap(s => notesOfStatement(motif, s, plan))
    .map(n => toNumber(n.onset) * 8)
    .sort((a, b) => a - b);
const copied = (motif: Motif, plan: Plan, from: number, last: number, copies = 1): Plan => {
  const toBar = barAfter(motif, plan, from);
  const done = copySection(motif, plan, { from, to: last, toBar, copies, steps: 0, letter: false });
  if (!done.ok) throw new Error(done.problem.what);
  return done.value.plan;
};
const upbeatIdea = (upbeat: number, ...lengths: number[]): Motif => {
  const reading = lineOf(metre(4, 4), upbeat, [upbeat, ...lengths]);
  return motifOfReading(reading, key('C'), likelyMotif(reading));
};

describe('another section', () => {
  it('follows straight on a canon whose last bar is silent, and is a canon again', () => {
    // Two bars, the second of them a rest; the answer comes a bar later, and its rest is no bar of the page.
    const resting: Motif = { ...IDEA, length: fraction(2) };
    const { plan } = grown({ kind: 'canon', statement: 's1', to, beats: 4 }, FIRST, resting);
    expect([lastBar(resting, plan), barAfter(resting, plan, 1)]).toEqual([2, 3]);
    const twice = copied(resting, plan, 1, 2, 2);
    expect(twice.statements.map(s => [show(s.onset), statementName(resting, twice, s)])).toEqual([
      ['0', 'the motif'],
      ['1', 'canon, one bar later'],
      ['2', 'the motif'],
      ['3', 'canon, one bar later'],
      ['4', 'the motif'],
      ['5', 'canon, one bar later'],
    ]);
    expect(scoreOfPlan(resting, twice, '', '').barCount).toBe(6);
  });

  it('takes the whole of an upbeat that was stretched', () => {
    // A quaver before the barline, four times as long: two crotchets before it.
    const idea = upbeatIdea(1, 2, 2);
    const { plan } = grown(
      { kind: 'change', statement: 's1', treatments: [{ kind: 'augment', factor: fraction(4) }] },
      FIRST,
      idea,
    );
    expect(struck(idea, plan, 'p1')).toEqual([-4, 0, 8]);
    const twice = copied(idea, plan, 1, lastBar(idea, plan));
    expect(struck(idea, twice, 'p1')).toEqual([-4, 0, 8, 20, 24, 32]);
    expect(twice.statements.map(s => statementName(idea, twice, s))).toEqual([
      'augmentation by 4',
      'augmentation by 4',
    ]);
  });

  it('has the note that is struck in its last bar where the next upbeat would begin', () => {
    const idea = upbeatIdea(2, 2, 2, 2, 2);
    expect([lastBar(idea, FIRST), barAfter(idea, FIRST, 1)]).toEqual([1, 3]);
    const thrice = copied(idea, FIRST, 1, 1, 2);
    const once = [-2, 0, 2, 4, 6];
    expect(struck(idea, thrice, 'p1')).toEqual([0, 16, 32].flatMap(by => once.map(one => one + by)));
    const exchanged = exchangeParts(
      idea,
      planOf(at('s1', 'p1', ZERO), at('s2', 'p2', ZERO, { chain: [{ kind: 'octave', octaves: 1 }] })),
      { from: 1, to: 1 },
      ['p1', 'p2'],
    );
    expect(exchanged.ok && exchanged.value.plan.statements.map(s => [s.part, s.chain.length])).toEqual([
      ['p2', 0],
      ['p1', 1],
    ]);
  });

  it('says where it could begin when the place is taken', () => {
    const idea = upbeatIdea(2, 2, 2, 2, 2);
    const copy = { from: 1, to: 1, toBar: 2, copies: 1, steps: 0, letter: false };
    const taken = copySection(idea, FIRST, copy);
    expect(!taken.ok && taken.problem.next).toBe('Begin at bar 3, after everything else.');
  });
});

describe('what becomes longer where it stands', () => {
  const two = { p1: 28, p2: 21 };
  const ended = (): Plan => {
    const both = grown({ kind: 'second-part', statement: 's1', to, bar: 1 }).plan;
    const done = grow(IDEA, both, { kind: 'ending', statement: 's1', steps: two });
    if (!done.ok) throw new Error(done.problem.what);
    return { ...done.value.plan, letters: [{ bar: 1, letter: 'A' }], tempi: [{ bar: 1, tempo: 60 }] };
  };

  it('lets all parts wait together, with letter, tempo, key and metre; nothing before it moves', () => {
    const plan: Plan = {
      ...ended(),
      keys: [{ bar: 1, moved: 2 }],
      metres: [{ bar: 1, metre: metre(3, 4) }],
    };
    const done = grow(IDEA, plan, { kind: 'repeat', statement: 's1', times: 4 });
    expect(!done.ok && done.problem.kind).toBe('conflict');
    const { plan: waited, made } = grown(
      { kind: 'repeat', statement: 's1', times: 4 },
      plan,
      IDEA,
      'postpone',
    );
    expect(made).toMatchObject({ id: 's1', times: 4, onset: ZERO });
    expect(waited.statements.map(s => show(s.onset))).toEqual(['0', '0', '4', '4']);
    expect([waited.letters, waited.tempi, waited.keys, waited.metres]).toEqual([
      [{ bar: 4, letter: 'A' }],
      [{ bar: 4, tempo: 60 }],
      [{ bar: 4, moved: 2 }],
      [{ bar: 4, metre: metre(3, 4) }],
    ]);
    expect(silentBarsOf(scoreOfPlan(IDEA, waited, '', ''))).toEqual([]);
  });

  it('waits whole bars, by as few as there must be, and for nothing where there is room', () => {
    const plan = planOf(at('s1', 'p1', ZERO), at('s2', 'p1', fraction(3, 2)), at('s3', 'p2', fraction(1)));
    const more = (times: number, how?: 'postpone'): readonly string[] =>
      grown({ kind: 'repeat', statement: 's1', times }, plan, IDEA, how).plan.statements.map(s =>
        show(s.onset),
      );
    expect(more(1, 'postpone')).toEqual(['0', '3/2', '1']);
    expect(more(2, 'postpone')).toEqual(['0', '5/2', '1']);
    expect(more(3, 'postpone')).toEqual(['0', '7/2', '1']);
  });

  it('is refused where that would be too many bars, or what plays before it is in the way', () => {
    const full = planOf(
      ...[0, 64, 128, 192, 256, 320].map((bar, i) => at(`s${String(i)}`, 'p1', fraction(bar), { times: 64 })),
      at('s9', 'p1', fraction(384)),
    );
    const doubled = grow(
      IDEA,
      full,
      { kind: 'change', statement: 's0', treatments: [{ kind: 'augment', factor: fraction(2) }] },
      'postpone',
    );
    expect(!doubled.ok && doubled.problem.kind).toBe('out-of-range');
    const idea = upbeatIdea(2, 2, 2);
    const close = planOf(at('s1', 'p1', ZERO), at('s2', 'p1', fraction(1)));
    const wide = grow(
      idea,
      close,
      { kind: 'change', statement: 's2', treatments: [{ kind: 'augment', factor: fraction(3) }] },
      'postpone',
    );
    expect(!wide.ok && wide.problem.kind).toBe('conflict');
  });
});
