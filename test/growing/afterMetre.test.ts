import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { copySection, exchangeParts } from '../../core/growing/sections.ts';
import { grow } from '../../core/growing/grow.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { tempoFrom, tempoOfBar } from '../../core/plan/tempi.ts';
import { barsInShort } from './barred.ts';
import { after, four, IDEA, scoreOf } from './keyed.ts';
import { M34, M68, inMetre, metresOf, onsets, sections } from './metred.ts';

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
