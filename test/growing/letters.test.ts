import { describe, expect, it } from 'vitest';
import { type Fraction, fraction, show, ZERO } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { letteredAt, toggleLetter } from '../../core/growing/letters.ts';
import {
  barsOfStatement,
  copySection,
  exchangeParts,
  lastBar,
  sectionsOf,
} from '../../core/growing/sections.ts';
import { between, clearBetween, firstFree, splitAt } from '../../core/growing/split.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { statementEnd, statementStart } from '../../core/plan/statement.ts';
import { asText, IDEA, sounds } from '../plan/motifs.ts';
import { FIRST, at, planOf, UPBEAT } from './steps.ts';

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
    expect(barsOfStatement(IDEA, planOf(), at('s1', 'p1', fraction(2), { times: 3 }))).toEqual({
      from: 3,
      to: 5,
    });
    expect(barsOfStatement(IDEA, planOf(), at('s1', 'p1', fraction(3, 4)))).toEqual({ from: 1, to: 2 });
    expect(barsOfStatement(UPBEAT, planOf(), at('s1', 'p1', fraction(1)))).toEqual({ from: 2, to: 2 });
    expect(
      barsOfStatement({ ...IDEA, length: ZERO, notes: [] }, planOf(), at('s1', 'p1', fraction(3))),
    ).toEqual({
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
