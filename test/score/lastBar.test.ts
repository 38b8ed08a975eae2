import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { lastBar } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { UPBEAT_IDEA } from '../growing/keyed.ts';
import { IDEA } from '../plan/motifs.ts';

/** Two bars, the second of them a rest. */
const RESTING: Motif = { ...IDEA, length: fraction(2) };
const grown = (motif: Motif, ...steps: readonly Growth[]): Plan =>
  steps.reduce<Plan>(
    (plan, step) => {
      const done = grow(motif, plan, step);
      if (!done.ok) throw new Error(done.problem.what);
      return done.value.plan;
    },
    firstPlan('xylophone', 90),
  );
const scoreOf = (motif: Motif, ...steps: readonly Growth[]): Score =>
  scoreOfPlan(motif, grown(motif, ...steps), '', '');
const CANON: Growth = { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 4 };

describe('the last bar', () => {
  it('of a canon that is a rest in every part is left out, and its bracket ends with the page', () => {
    const score = scoreOf(RESTING, CANON);
    expect(score.barCount).toBe(2);
    expect(score.parts.map(p => p.bars.map(b => b.symbols[0]?.wholeBar === true))).toEqual([
      [false, true],
      [true, false],
    ]);
    expect(score.brackets.map(b => [show(b.from), show(b.to)])).toEqual([
      ['0', '2'],
      ['1', '2'],
    ]);
  });
  it('of an upbeat canon stays shorter by the upbeat', () => {
    const upbeat: Motif = {
      ...RESTING,
      upbeat: fraction(1, 4),
      notes: [
        { onset: fraction(-1, 4), duration: fraction(1, 4), degree: 32, alter: 0 },
        ...IDEA.notes.slice(0, -1),
      ],
    };
    const score = scoreOf(upbeat, CANON);
    expect(score.parts[0]?.bars.map(b => show(b.length))).toEqual(['1/4', '1', '3/4']);
    expect(show(score.brackets[1]?.to ?? fraction(9))).toBe('7/4');
  });
  it('of the idea itself stays, however often it comes: repeats are folded as they were', () => {
    expect(scoreOf(RESTING).barCount).toBe(2);
    const four = scoreOf(RESTING, { kind: 'repeat', statement: 's1', times: 4 });
    expect([four.barCount, withRepeatBars(four).repeats]).toEqual([8, [{ bar: 0, bars: 2, times: 4 }]]);
    // A copy straight on in the same part answers nobody.
    const copied = scoreOf(RESTING, {
      kind: 'state',
      statement: 's1',
      treatments: [],
      to: { part: 'p1' },
      onset: fraction(2),
    });
    expect(copied.barCount).toBe(4);
  });
  it('of a leader that goes on stays as well; what is put after a canon begins after the last bar there is', () => {
    const longer = scoreOf(RESTING, { kind: 'repeat', statement: 's1', times: 2 }, { ...CANON, beats: 2 });
    expect(longer.barCount).toBe(4);
    expect(lastBar(RESTING, grown(RESTING, CANON))).toBe(2);
  });
  it('is shortened by the upbeat whatever room is left silent in it', () => {
    // The last note is short, in a bar with room for more than that.
    const stopped = { steps: { p1: 28 }, kind: 'ending', statement: 's1' } as const;
    const plan = grown(UPBEAT_IDEA, stopped);
    const last = plan.statements.at(-1)?.id ?? '';
    const cut = { kind: 'fragment', from: fraction(0), to: fraction(1) } as const;
    const done = grow(UPBEAT_IDEA, plan, { kind: 'change', statement: last, treatments: [cut] });
    if (!done.ok) throw new Error(done.problem.what);
    expect(scoreOfPlan(UPBEAT_IDEA, done.value.plan, '', '').parts[0]?.bars.map(b => show(b.length))).toEqual(
      ['1/4', '1', '3/4'],
    );
  });
  it('is one bar at least', () => {
    const silent: Motif = { ...IDEA, notes: [] };
    expect(scoreOf(silent, CANON).barCount).toBe(1);
  });
});
