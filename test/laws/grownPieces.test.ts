import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, type Fraction, less, show, subtract, ZERO } from '../../core/foundation/fraction.ts';
import { metreOfBar, barStart } from '../../core/foundation/barring.ts';
import { barLength } from '../../core/foundation/metre.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { barringIn } from '../../core/plan/keys.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score, ScorePart } from '../../core/score/score.ts';
import { writtenStep } from '../../core/score/writtenStep.ts';
import { anyDrawn, type Drawn, KINDS, stepIn } from './anyGrowth.ts';
import { anyIdea, type Idea, silentBarsOf } from './anyUpbeat.ts';

// What a musician counts on any page, whatever was grown (common practice, no source): bars add up, every note that
// sounds is written once, no last bar is empty, and what an upbeat took is missing from the last bar.

interface Walked {
  readonly motif: Motif;
  readonly plan: Plan;
  readonly score: Score;
  readonly kind: Drawn['kind'];
}

/** Every page on the way through some steps; what is refused is passed over. */
const walk = ({ motif }: Idea, steps: readonly Drawn[]): readonly Walked[] => {
  let plan = firstPlan('xylophone', 100);
  return steps.flatMap(drawn => {
    const done = writtenStep(
      motif,
      plan,
      stepIn(motif, plan, drawn),
      drawn.postpone ? 'postpone' : undefined,
    );
    if (!done.ok) return [];
    plan = done.value.plan;
    return [{ motif, plan, score: scoreOfPlan(motif, plan, '', ''), kind: drawn.kind }];
  });
};
const sum = (lengths: readonly Fraction[]): Fraction => lengths.reduce(add, ZERO);
const struck = (part: ScorePart): readonly string[] =>
  part.bars
    .flatMap(bar => bar.symbols.filter(symbol => !symbol.tiedFrom))
    .flatMap(symbol => symbol.pitches.map(p => `${show(symbol.onset)} ${String(midiOf(p.spelled))}`))
    .sort();
const sounding = (motif: Motif, plan: Plan, part: string): readonly string[] => {
  const own = plan.statements.filter(s => s.part === part);
  const all = own.flatMap(s => notesOfStatement(motif, s, plan));
  return [...new Set(all.map(n => `${show(n.onset)} ${String(midiOf(n.pitch))}`))].sort();
};
/** Up to where it sounds. */
const soundsUntil = ({ motif, plan }: Walked): Fraction =>
  plan.statements
    .flatMap(s => notesOfStatement(motif, s, plan))
    .map(n => add(n.onset, n.duration))
    .reduce((so, end) => (less(so, end) ? end : so), ZERO);

describe('a piece grown at random', () => {
  it('law: bars add up and follow each other, every note is written once, and the last bar sounds', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(anyIdea, fc.array(anyDrawn, { minLength: 1, maxLength: 5 }), (idea, steps) => {
        for (const walked of walk(idea, steps)) {
          const { motif, plan, score, kind } = walked;
          met.add(kind);
          const barring = barringIn(motif, plan);
          const before = score.upbeat.n > 0 ? 1 : 0;
          const last = score.barCount - 1;
          for (const part of score.parts) {
            expect(part.bars).toHaveLength(score.barCount);
            for (const [i, bar] of part.bars.entries()) {
              expect(show(sum(bar.symbols.map(symbol => symbol.duration)))).toBe(show(bar.length));
              const whole = barLength(metreOfBar(barring, i - before).metre);
              if (i < before)
                expect([show(bar.start), bar.length]).toEqual([
                  show(subtract(ZERO, score.upbeat)),
                  score.upbeat,
                ]);
              else expect(show(bar.start)).toBe(show(barStart(barring, i - before)));
              if (i >= before && i < last) expect(show(bar.length)).toBe(show(whole));
              if (i === last) {
                // Shorter by the upbeat, unless something sounds in the place of it.
                const short = subtract(whole, score.upbeat);
                const isFull = less(add(bar.start, short), soundsUntil(walked));
                expect(show(bar.length)).toBe(show(isFull ? whole : short));
              }
            }
            expect(struck(part)).toEqual(sounding(motif, plan, part.id));
          }
          expect(silentBarsOf(score)).not.toContain(last);
        }
      }),
      { numRuns: 250, seed: 12 },
    );
    expect([...met].sort()).toEqual([...KINDS].sort());
  });

  it('law: an ending, a section, a sequence and a repetition bring no silent bar', () => {
    // A bar may be silent where a step puts something later than straight on; these do not.
    const steps = fc.array(
      anyDrawn.map(drawn => {
        const kinds = ['repeat', 'section', 'sequence', 'ending', 'second-part'] as const;
        return { ...drawn, kind: kinds[drawn.how % kinds.length] ?? 'ending', which: 0, postpone: true };
      }),
      { minLength: 1, maxLength: 3 },
    );
    fc.assert(
      fc.property(anyIdea, steps, (idea, drawn) => {
        // A statement that is made fewer times than before leaves its room.
        const growing = drawn.map(d => (d.kind === 'repeat' ? { ...d, how: 3 } : { ...d, how: 3 * d.how }));
        for (const { score } of walk(idea, growing)) expect(silentBarsOf(score)).toEqual([]);
      }),
      { numRuns: 200, seed: 3 },
    );
  });

  it('law: what becomes longer where it stands keeps its place, and what follows waits with everything after it', () => {
    fc.assert(
      fc.property(
        anyIdea,
        fc.array(anyDrawn, { maxLength: 3 }),
        fc.nat({ max: 99 }),
        (idea, steps, which) => {
          const { motif } = idea;
          const plan = walk(idea, steps).at(-1)?.plan ?? firstPlan('xylophone', 100);
          const wanted = plan.statements[which % plan.statements.length];
          if (wanted === undefined) return;
          const repeated = { kind: 'repeat', statement: wanted.id, times: wanted.times + 3 } as const;
          const done = writtenStep(motif, plan, repeated, 'postpone');
          if (!done.ok) return;
          const { statements } = done.value.plan;
          expect(statements.map(s => s.id)).toEqual(plan.statements.map(s => s.id));
          const by = statements.map((s, i) => subtract(s.onset, plan.statements[i]?.onset ?? s.onset));
          const moved = by.filter(one => one.n !== 0);
          // All by the same, whole bars of where they stood; whatever began before the first of them stays.
          expect(new Set(moved.map(show)).size).toBeLessThan(2);
          const from = plan.statements.filter((_, i) => by[i]?.n !== 0).map(s => s.onset);
          for (const [i, s] of plan.statements.entries())
            if (by[i]?.n === 0) expect(from.every(at => less(s.onset, at))).toBe(true);
          expect(statements.find(s => s.id === wanted.id)?.onset).toEqual(wanted.onset);
        },
      ),
      { numRuns: 200, seed: 4 },
    );
  });
});
