import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { key, keyName } from '../../core/foundation/key.ts';
import { type OtherKey } from '../../core/growing/changeKey.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { statementName, treatmentsUsed } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { isDoubleAfter } from '../../core/score/barline.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { playedOut } from '../../core/score/repeats.ts';
import { ideaIn, IDEA, after, four, inKey, scoreOf } from './keyed.ts';

describe('names across a change of key', () => {
  const named = (plan: Plan): string[] => plan.statements.map(s => statementName(IDEA, plan, s));
  const canonOver = (bar: number, to: OtherKey): Plan =>
    inKey(
      IDEA,
      after(IDEA, four(), { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 2 }),
      bar,
      to,
    );

  it('a canon whose follower is in another key where the leader was not is an imitation', () => {
    expect(named(canonOver(4, { moved: 7 }))).toEqual([
      'the motif, four times',
      'imitation, two beats later, three times',
    ]);
    // In a scale of five too.
    const five = ideaIn(key('C', 'major pentatonic'), [25, 26, 27, 28]);
    const plan = inKey(
      five,
      after(five, four(five), { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 2 }),
      4,
      { moved: 7 },
    );
    expect(plan.statements.map(s => statementName(five, plan, s))[1]).toBe(
      'imitation, two beats later, three times',
    );
    expect(named(canonOver(4, { signature: key('G') }))[1]).toBe('canon, two beats later, three times');
  });
  it('one that is wholly in another key is a canon at that interval', () => {
    const long: Motif = { ...IDEA, length: fraction(2) };
    const two = after(long, firstPlan('xylophone', 90), {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 4,
    });
    const name = (moved: number): string => {
      const plan = inKey(long, two, 2, { moved });
      return plan.statements.map(s => statementName(long, plan, s))[1] ?? '';
    };
    expect(name(7)).toBe('canon at the fifth above, one bar later');
    expect(name(-3)).toBe('canon at the third below, one bar later');
    expect(name(12)).toBe('canon, one bar later');
  });
  it('what plays together stays a second part, for both are in the same key', () => {
    const plan = after(IDEA, four(), {
      kind: 'second-part',
      statement: 's1',
      to: { newPart: 'marimba' },
      bar: 2,
    });
    expect(named(inKey(IDEA, plan, 3, { moved: 7 }))).toEqual(named(plan));
  });
  it('the idea again straight on in another key is a modulating sequence', () => {
    const plan = after(IDEA, firstPlan('xylophone', 90), {
      kind: 'state',
      statement: 's1',
      treatments: [],
      to: { part: 'p1' },
      onset: fraction(1),
    });
    const there = inKey(IDEA, plan, 2, { moved: 2 });
    expect(named(there)).toEqual(['the motif', 'modulating sequence, a second higher']);
    expect(treatmentsUsed(IDEA, there)).toEqual(['modulating sequence']);
    expect(named(inKey(IDEA, plan, 2, { signature: key('D') }))).toEqual(named(plan));
  });
  it('a bordun stands on the tonic of each key; with the signature alone it is a drone', () => {
    const drone = after(IDEA, four(), {
      kind: 'accompany',
      statement: 's1',
      what: { kind: 'drone', figure: 'simple', steps: [21, 25] },
      to: { newPart: 'marimba' },
      bar: 1,
      bars: 4,
    });
    expect(named(inKey(IDEA, drone, 3, { moved: 2 }))[1]).toBe(
      'simple bordun, C and G, then simple bordun, D and A, four times',
    );
    expect(named(inKey(IDEA, drone, 3, { signature: key('G') }))[1]).toBe(
      'simple bordun, C and G, then drone, C and G, four times',
    );
    expect(treatmentsUsed(IDEA, inKey(IDEA, drone, 3, { signature: key('G') }))).toEqual([
      'repetition',
      'bordun',
      'drone',
    ]);
  });
});

describe('repeat bars and another key', () => {
  it('a signature alone stops them, and has its double barline, without any letter', () => {
    const plain = scoreOf(IDEA, { ...inKey(IDEA, four(), 3, { signature: key('G') }), letters: [] });
    expect(withRepeatBars(plain).repeats?.map(r => [r.bar, r.times])).toEqual([
      [0, 2],
      [1, 2],
    ]);
    expect([0, 1, 2].map(bar => isDoubleAfter(plain, bar))).toEqual([false, true, false]);
    // The double barline goes before the sign that opens the repeat.
    expect(isDoubleAfter({ ...plain, repeats: [{ bar: 2, bars: 1, times: 2 }] }, 1)).toBe(true);
  });

  it('no bars are folded across it, and what is played keeps its keys', () => {
    const score = withRepeatBars(scoreOf(IDEA, inKey(IDEA, four(), 3, { signature: key('G') })));
    expect(score.repeats).toEqual([
      { bar: 0, bars: 1, times: 2 },
      { bar: 1, bars: 1, times: 2 },
    ]);
    expect(score.keys?.map(k => [k.bar, keyName(k.key)])).toEqual([[1, 'G major']]);
    expect(playedOut(score).keys?.map(k => [k.bar, keyName(k.key)])).toEqual([[2, 'G major']]);
    expect(score.parts[0]?.bars.map(b => show(b.start))).toEqual(['0', '1']);
  });
});
