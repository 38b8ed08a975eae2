import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { type Metre, metre, showMetre } from '../../core/foundation/metre.ts';
import { changeMetre } from '../../core/growing/changeMetre.ts';
import {
  copySection,
  exchangeParts,
  lastBar,
  sectionsOf,
  toggleLetter,
} from '../../core/growing/sections.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { statementName } from '../../core/plan/naming.ts';
import { beatsAway, barAndBeat } from '../../core/plan/beats.ts';
import { barringIn } from '../../core/plan/keys.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { tempoFrom, tempoOfBar } from '../../core/plan/tempi.ts';
import { barsInShort, ideaOf } from './barred.ts';
import { after, four, IDEA, scoreOf } from './keyed.ts';

const M34 = metre(3, 4);
const M68 = metre(6, 8);

const inMetre = (plan: Plan, bar: number, to: Metre, motif: Motif = IDEA): Plan =>
  after(motif, plan, { kind: 'metre', statement: 's1', bar, to });
const metresOf = (plan: Plan): string[] =>
  (plan.metres ?? []).map(m => `${String(m.bar)} ${showMetre(m.metre)}`);
/** Four times, followed by a marimba. @param beats later */
const canonAfter = (beats: number): Plan =>
  after(IDEA, four(), { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats });
const onsets = (plan: Plan): string[] => plan.statements.map(s => show(s.onset));

/** A at bar 1, B at bar 3, C at bar 5: two bars of the idea in each, statements of their own. */
const sections = (): Plan => ({
  ...firstPlan('xylophone', 90),
  statements: [0, 2, 4].map((bar, i) => ({
    id: `s${String(i + 1)}`,
    part: 'p1',
    onset: fraction(bar),
    chain: [],
    times: 2,
  })),
  letters: [
    { bar: 0, letter: 'A' },
    { bar: 2, letter: 'B' },
    { bar: 4, letter: 'C' },
  ],
  nextId: 4,
});

// Notes keep their written values and are barred anew (common practice, no source); every bar below is counted by hand.
describe('another metre at a letter', () => {
  it('4/4 to 3/4: the same crotchets, three to a bar, tied nowhere, the last bar filled with a rest', () => {
    const plan = inMetre(four(), 3, M34);
    expect(metresOf(plan)).toEqual(['2 3/4']);
    expect(plan.letters).toEqual([{ bar: 2, letter: 'A' }]);
    expect(barsInShort(scoreOf(IDEA, plan))).toEqual([
      'C5 E5 G5 D5',
      'C5 E5 G5 D5',
      'C5 E5 G5',
      'D5 C5 E5',
      'G5 D5 r4',
    ]);
  });

  it('a note across a new barline is tied', () => {
    const minims = ideaOf([
      [0, 2],
      [1, 2],
    ]);
    const plan = inMetre(four(minims), 3, M34, minims);
    expect(barsInShort(scoreOf(minims, plan)).slice(2)).toEqual(['C5 E5~', '~E5 C5', 'E5 r4']);
  });

  it('4/4 to 6/8: quavers stay quavers, in beats of three', () => {
    const plan = inMetre(four(), 3, M68);
    // A crotchet on the third quaver of a beat is tied over the middle of the bar.
    expect(barsInShort(scoreOf(IDEA, plan)).slice(2)).toEqual([
      'C5 E5~ ~E5 G5',
      'D5 C5~ ~C5 E5',
      'G5 D5~ ~D5 r8 r8',
    ]);
    expect(scoreOf(IDEA, plan).tempi).toBeUndefined();
  });

  it('the metre before takes it away again, and what was there before is there again', () => {
    const before = toggleLetter(four(), 3);
    expect(inMetre(inMetre(before, 3, M34), 3, metre(4, 4))).toEqual(before);
  });

  it('bars are numbered, sections and beats told through the change', () => {
    const plan = inMetre(four(), 3, M34);
    expect(lastBar(IDEA, plan)).toBe(5);
    expect(sectionsOf(IDEA, plan)).toEqual([
      { name: 'the opening', from: 1, to: 2 },
      { name: 'A', from: 3, to: 5 },
    ]);
    expect(scoreOf(IDEA, plan).parts[0]?.bars.map(b => [b.number, show(b.start), show(b.length)])).toEqual([
      [1, '0', '1'],
      [2, '1', '1'],
      [3, '2', '3/4'],
      [4, '11/4', '3/4'],
      [5, '7/2', '3/4'],
    ]);
    const barring = barringIn(IDEA, inMetre(four(), 3, M68));
    expect(barAndBeat(barring, fraction(19, 8))).toEqual({ bar: 3, beat: 2 });
    // Two beats on from the last of 4/4: the first and second of 6/8; and back again.
    expect(show(beatsAway(barring, fraction(7, 4), 2))).toBe('19/8');
    expect(show(beatsAway(barring, fraction(19, 8), -2))).toBe('7/4');
    expect(show(beatsAway(barring, fraction(19, 8), -3))).toBe('3/2');
  });
});

describe('what comes after the change', () => {
  it('waits for a barline where its letter would fall within a bar, and no longer when the change goes', () => {
    const plan = inMetre(sections(), 3, M34);
    // Eight crotchets of B in 3/4 end in the third bar: C waits a crotchet.
    expect(plan.letters.map(l => l.bar)).toEqual([0, 2, 5]);
    expect(onsets(plan)).toEqual(['0', '2', '17/4']);
    expect(plan.pauses).toEqual([{ bar: 5, length: fraction(1, 4) }]);
    expect(inMetre(plan, 3, metre(4, 4))).toEqual(sections());
  });

  it('goes back to the first metre at the next letter: a form of A B A', () => {
    const plan = inMetre(inMetre(sections(), 3, M34), 6, metre(4, 4));
    expect(metresOf(plan)).toEqual(['2 3/4', '5 4/4']);
    expect(barsInShort(scoreOf(IDEA, plan))).toEqual([
      'C5 E5 G5 D5',
      'C5 E5 G5 D5',
      'C5 E5 G5',
      'D5 C5 E5',
      'G5 D5 r4',
      'C5 E5 G5 D5',
      'C5 E5 G5 D5',
    ]);
    // The one change taken away, the other goes with it: it changes nothing any more.
    expect(inMetre(plan, 3, metre(4, 4))).toEqual(sections());
  });

  it('does not wait where a part sounds across its letter, and says so', () => {
    const [s1, s2] = sections().statements;
    if (s1 === undefined || s2 === undefined) throw new Error('no statements');
    const across: Plan = { ...sections(), statements: [s1, { ...s2, times: 4 }] };
    expect(changeMetre(IDEA, across, 3, M34)).toEqual({
      ok: false,
      problem: {
        kind: 'conflict',
        what: 'In this metre letter C would begin in the middle of a bar, and the xylophone plays across it, so it cannot wait.',
        kept: 'Nothing was changed.',
        next: 'Let the xylophone stop before letter C, or take away what is marked there first.',
      },
    });
    // Three bars of 4/4 are four of 3/4: nothing has to wait, and what sounds across is barred anew.
    const three: Plan = {
      ...across,
      letters: [
        { bar: 2, letter: 'A' },
        { bar: 5, letter: 'B' },
      ],
    };
    expect(inMetre(three, 3, M34).letters.map(l => l.bar)).toEqual([2, 6]);
  });

  it('keeps a pause into which something was put since', () => {
    const waiting = inMetre(sections(), 3, M34);
    const filled: Plan = {
      ...waiting,
      statements: [
        ...waiting.statements,
        {
          id: 's9',
          part: 'p1',
          onset: fraction(4),
          chain: [{ kind: 'fragment', from: fraction(0), to: fraction(1, 4) }],
          times: 1,
        },
      ],
    };
    const back = inMetre(filled, 3, metre(4, 4));
    // The crotchet stays where it was put; C waits for the barline after it.
    expect(onsets(back)).toEqual(['0', '2', '5', '4']);
    expect(back.letters.map(l => l.bar)).toEqual([0, 2, 5]);
  });

  it('keeps it too where another part plays in it', () => {
    const waiting = inMetre(sections(), 3, M34);
    const [first] = waiting.statements;
    if (first === undefined) throw new Error('no statement');
    const filled: Plan = {
      ...waiting,
      parts: [...waiting.parts, { id: 'p2', instrument: 'marimba' }],
      statements: [
        ...waiting.statements,
        {
          ...first,
          id: 's9',
          part: 'p2',
          onset: fraction(4),
          times: 1,
          chain: [{ kind: 'fragment', from: fraction(0), to: fraction(1, 4) }],
        },
      ],
    };
    expect(onsets(inMetre(filled, 3, metre(4, 4)))).toEqual(['0', '2', '5', '4']);
  });

  it('a follower that enters after the change is told in the beats of its leader', () => {
    const canon = canonAfter(6);
    // Six crotchets later is bar 2, beat 3; in 6/8 from bar 2 on it would be five quavers into that bar.
    const plan = inMetre(canon, 2, M68);
    const second = plan.statements[1];
    expect(second && statementName(IDEA, plan, second)).toContain('canon, six beats later');
  });

  it('an upbeat longer than a bar of the last metre shortens nothing', () => {
    const upbeat = fraction(1, 2);
    const notes = IDEA.notes.map(n => ({
      ...n,
      onset: fraction(n.onset.n * 4 - 2 * n.onset.d, 4 * n.onset.d),
    }));
    const idea: Motif = { ...IDEA, upbeat, notes };
    const plan = inMetre(four(idea), 3, metre(2, 4), idea);
    const bars = scoreOf(idea, plan).parts[0]?.bars ?? [];
    expect(bars.every(bar => bar.length.n > 0)).toBe(true);
    expect(
      barsInShort(scoreOf(idea, plan))
        .join(' ')
        .split(' ')
        .filter(s => !s.startsWith('r')),
    ).toHaveLength(16);
  });

  it('a canon runs over the change, and is named in the beats in which it began', () => {
    const canon = canonAfter(2);
    const plan = inMetre(canon, 3, M34);
    expect(onsets(plan)).toEqual(['0', '1/2']);
    const second = plan.statements[1];
    expect(second && statementName(IDEA, plan, second)).toContain('canon, two beats later');
    expect(barsInShort(scoreOf(IDEA, plan), 1)).toEqual([
      'r2 C5 E5',
      'G5 D5 C5 E5',
      'G5 D5 C5',
      'E5 G5 D5',
      'R',
    ]);
  });
});

describe('what cannot be', () => {
  it.each([
    [1, M34],
    [5, M34],
    [2.5, M34],
    [Number.NaN, M34],
  ])('no change at bar %s', (bar, to) => {
    expect(changeMetre(IDEA, four(), bar, to)).toMatchObject({
      ok: false,
      problem: { kind: 'out-of-range' },
    });
  });

  it('swung pairs need beats that divide in two', () => {
    const swung: Motif = { ...IDEA, swing: { ratio: 2, unit: fraction(1, 8) } };
    expect(changeMetre(swung, four(swung), 3, M68)).toMatchObject({
      ok: false,
      problem: { what: expect.stringContaining('6/8') as string },
    });
    expect(changeMetre(swung, four(swung), 3, M34).ok).toBe(true);
  });

  it('a piece does not grow beyond its bars', () => {
    const long = after(IDEA, firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 64 });
    const longer: Plan = { ...long, statements: long.statements.map(s => ({ ...s, times: 390 })) };
    expect(changeMetre(IDEA, longer, 2, metre(2, 4))).toMatchObject({
      ok: false,
      problem: { kind: 'out-of-range' },
    });
  });
});

describe('tempo, sections and accompaniment after a change', () => {
  it('a metronome mark is told in the beats of its metre, and stays as fast', () => {
    const marked = tempoFrom(IDEA, four(), 3, 120);
    const plan = inMetre(marked, 3, M68);
    expect(plan.tempi).toEqual([{ bar: 2, tempo: 80 }]);
    expect(scoreOf(IDEA, plan).tempi).toEqual([{ at: fraction(2), tempo: 80, beat: fraction(3, 8) }]);
    expect(inMetre(plan, 3, metre(4, 4)).tempi).toEqual([{ bar: 2, tempo: 120 }]);
    const plain = inMetre(four(), 3, M68);
    expect(tempoOfBar(IDEA, plain, 3)).toBe(60);
    // Dotted crotchet = 60 is as fast as crotchet = 90: no mark; dotted crotchet = 90 is faster.
    expect(tempoFrom(IDEA, plain, 3, 60)).not.toHaveProperty('tempi');
    expect(tempoFrom(IDEA, plain, 3, 90).tempi).toEqual([{ bar: 2, tempo: 90 }]);
  });

  it('a section copied to the end brings its metre along', () => {
    const aba = inMetre(inMetre(sections(), 3, M34), 6, metre(4, 4));
    const copied = copySection(IDEA, aba, { from: 3, to: 5, toBar: 8, copies: 2, steps: 0, letter: true });
    if (!copied.ok) throw new Error(copied.problem.what);
    expect(metresOf(copied.value.plan)).toEqual(['2 3/4', '5 4/4', '7 3/4']);
    expect(barsInShort(scoreOf(IDEA, copied.value.plan)).slice(7)).toEqual([
      'C5 E5 G5',
      'D5 C5 E5',
      'G5 D5 r4',
      'C5 E5 G5',
      'D5 C5 E5',
      'G5 D5 r4',
    ]);
  });

  it('copied into bars of another metre it is barred by them, each copy from a barline', () => {
    const plan: Plan = {
      ...firstPlan('xylophone', 90),
      statements: [
        { id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 1 },
        { id: 's2', part: 'p1', onset: fraction(8), chain: [], times: 1 },
      ],
      nextId: 3,
    };
    const waltz = inMetre(plan, 2, M34);
    const copied = copySection(IDEA, waltz, { from: 1, to: 1, toBar: 2, copies: 2, steps: 0, letter: false });
    if (!copied.ok) throw new Error(copied.problem.what);
    expect(onsets(copied.value.plan).slice(2)).toEqual(['1', '5/2']);
  });

  it('parts are exchanged by the bars of the new metre', () => {
    const canon = after(IDEA, four(), {
      kind: 'second-part',
      statement: 's1',
      to: { newPart: 'marimba' },
      bar: 1,
    });
    const plan = inMetre(canon, 3, M34);
    const traded = exchangeParts(IDEA, plan, { from: 4, to: 4 }, ['p1', 'p2']);
    if (!traded.ok) throw new Error(traded.problem.what);
    // Bar 4 lasts from 11/4 to 7/2: statements are cut there.
    expect(new Set(onsets(traded.value.plan))).toContain('11/4');
  });

  it('a drone fills bars of the metre in force where it begins', () => {
    const plan = inMetre(four(), 3, M34);
    const droned = grow(IDEA, plan, {
      kind: 'accompany',
      statement: 's1',
      what: { kind: 'drone', figure: 'simple', steps: [21, 25] },
      to: { newPart: 'marimba' },
      bar: 3,
      bars: 2,
    });
    if (!droned.ok) throw new Error(droned.problem.what);
    expect(barsInShort(scoreOf(IDEA, droned.value.plan), 1).slice(2, 4)).toEqual(['C3+G3', 'C3+G3']);
    expect(droned.value.plan.statements.at(-1)?.accompaniment?.metre).toEqual(M34);
    // Over a change it goes on in bars of the new metre: minims, then dotted minims.
    const over = grow(IDEA, plan, {
      kind: 'accompany',
      statement: 's1',
      what: { kind: 'drone', figure: 'simple', steps: [21, 25] },
      to: { newPart: 'marimba' },
      bar: 1,
      bars: 5,
    });
    if (!over.ok) throw new Error(over.problem.what);
    expect(barsInShort(scoreOf(IDEA, over.value.plan), 1)).toEqual([
      'C3+G3 C3+G3',
      'C3+G3 C3+G3',
      'C3+G3',
      'C3+G3',
      'C3+G3',
    ]);
    expect(over.value.plan.statements.slice(1).map(s => s.times)).toEqual([2, 3]);
    const ended = grow(IDEA, plan, { kind: 'ending', statement: 's1', steps: { p1: 35 } });
    if (!ended.ok) throw new Error(ended.problem.what);
    expect(barsInShort(scoreOf(IDEA, ended.value.plan)).at(-1)).toBe('C5');
  });

  it('a key changes at a bar of the new metre', () => {
    const plan = after(IDEA, inMetre(four(), 3, M34), {
      kind: 'key',
      statement: 's1',
      bar: 4,
      to: { moved: 2 },
    });
    const score = scoreOf(IDEA, plan);
    expect(score.keys).toEqual([{ bar: 3, key: key('D') }]);
    // A time through is in the key of its barline: the last begins at the second crotchet of bar 4.
    expect(barsInShort(score).slice(3)).toEqual(['E5 D5 F♯5', 'A5 E5 r4']);
  });
});
