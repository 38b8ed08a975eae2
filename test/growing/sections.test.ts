import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, fraction } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { playedEnd } from '../../core/plan/standing.ts';
import { toggleLetter } from '../../core/growing/letters.ts';
import { copySection, exchangeParts, lastBar, sectionsOf } from '../../core/growing/sections.ts';
import { statementName } from '../../core/plan/naming.ts';
import { asText, IDEA, inside, plans, sounds } from '../plan/motifs.ts';

const value = <T>(result: { ok: true; value: T } | { ok: false; problem: { what: string } }): T => {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
};

describe('laws of sections', () => {
  it('parts exchanged twice are as they were; exchanged once they trade places', () => {
    fc.assert(
      fc.property(
        plans,
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 0, max: 2 }),
        (plan, from, more) => {
          const bars = { from, to: from + more };
          const once = exchangeParts(IDEA, plan, bars, ['p1', 'p2']);
          if (!once.ok) return;
          const swapped = sounds(IDEA, plan).map(n =>
            inside(n.at, fraction(from - 1), fraction(from + more))
              ? { ...n, part: n.part === 'p1' ? 'p2' : 'p1' }
              : n,
          );
          expect(asText(sounds(IDEA, once.value.plan)).sort()).toEqual(asText(swapped).sort());
          const twice = value(exchangeParts(IDEA, once.value.plan, bars, ['p1', 'p2']));
          expect(asText(sounds(IDEA, twice.plan))).toEqual(asText(sounds(IDEA, plan)));
        },
      ),
    );
  });
  it('a copied section sounds what the section sounds, later', () => {
    fc.assert(
      fc.property(
        plans,
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 0, max: 2 }),
        (plan, from, more) => {
          const at = lastBar(IDEA, plan) + 1;
          const copy = copySection(IDEA, plan, {
            from,
            to: from + more,
            toBar: at,
            copies: 1,
            steps: 0,
            letter: false,
          });
          if (!copy.ok) return;
          const source = sounds(IDEA, plan).filter(n =>
            inside(n.at, fraction(from - 1), fraction(from + more)),
          );
          const shifted = source.map(n => ({ ...n, at: add(n.at, fraction(at - from)) }));
          const made = sounds(IDEA, copy.value.plan).filter(n =>
            inside(n.at, fraction(at - 1), fraction(999)),
          );
          expect(asText(made)).toEqual(asText(shifted));
        },
      ),
    );
  });
});

describe('the piece of check values (common practice, as ../shared/product.md states them)', () => {
  const first = firstPlan('xylophone', 90);
  const four = value(grow(IDEA, first, { kind: 'repeat', statement: 's1', times: 4 })).plan;
  const two = value(
    grow(IDEA, four, { kind: 'second-part', statement: 's1', to: { newPart: 'marimba' }, bar: 3 }),
  ).plan;
  const marimba = two.parts[1]?.id ?? '';

  it('an idea stated four times is four bars; the second part enters at bar 3', () => {
    expect(playedEnd(IDEA, four)).toEqual(fraction(4));
    const second = two.statements[1];
    expect(second?.onset).toEqual(fraction(2));
    expect(second?.times).toBe(2);
  });

  const a = value(
    copySection(IDEA, two, {
      from: 1,
      to: 4,
      toBar: 5,
      copies: 1,
      steps: 0,
      exchange: ['p1', marimba],
      letter: true,
    }),
  ).plan;
  it('section A begins at bar 5 with the parts exchanged', () => {
    expect(a.letters).toEqual([{ bar: 4, letter: 'A' }]);
    const inA = sounds(IDEA, a).filter(n => inside(n.at, fraction(4), fraction(8)));
    expect(inA.filter(n => n.part === marimba)).toHaveLength(20);
    expect(inA.filter(n => n.part === 'p1')).toHaveLength(10);
    expect(inA.find(n => n.part === 'p1')?.at).toEqual(fraction(6));
  });

  const b = value(copySection(IDEA, a, { from: 7, to: 8, toBar: 9, copies: 2, steps: 1, letter: true })).plan;
  it('in section B, at bar 9, everything is up a step for two bars, then another step for two', () => {
    expect(b.letters.map(l => [l.letter, l.bar + 1])).toEqual([
      ['A', 5],
      ['B', 9],
    ]);
    expect(sectionsOf(IDEA, b)).toEqual([
      { name: 'the opening', from: 1, to: 4 },
      { name: 'A', from: 5, to: 8 },
      { name: 'B', from: 9, to: 12 },
    ]);
    const lead = sounds(IDEA, b).filter(n => n.part === marimba);
    const bar = (k: number): number[] =>
      lead.filter(n => inside(n.at, fraction(k - 1), fraction(k))).map(n => n.pitch);
    expect(bar(7)).toEqual([72, 76, 79, 76, 74]);
    expect(bar(9)).toEqual([74, 77, 81, 77, 76]);
    expect(bar(10)).toEqual(bar(9));
    expect(bar(11)).toEqual([76, 79, 83, 79, 77]);
    expect(bar(12)).toEqual(bar(11));
  });
});

describe('overlap', () => {
  const plan = value(
    grow(IDEA, firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 4 }),
  ).plan;
  const step = {
    kind: 'state',
    statement: 's1',
    treatments: [{ kind: 'retrograde' }],
    to: { part: 'p1' },
    onset: fraction(5, 2),
  } as const;
  it('is refused with words, and nothing changes', () => {
    expect(grow(IDEA, plan, step)).toMatchObject({ ok: false, problem: { kind: 'conflict' } });
  });
  it('waits, when asked to, for the part to be free', () => {
    const grown = value(grow(IDEA, plan, step, 'postpone'));
    expect(grown.plan.statements.find(s => s.id === grown.statement)?.onset).toEqual(fraction(4));
    expect(sounds(IDEA, grown.plan)).toHaveLength(25);
  });
  it('cuts what stands there, when asked to, and keeps what lies before and after', () => {
    const grown = value(grow(IDEA, plan, step, 'cut'));
    const kept = sounds(IDEA, plan).filter(n => !inside(n.at, fraction(5, 2), fraction(7, 2)));
    const others: Plan = {
      ...grown.plan,
      statements: grown.plan.statements.filter(s => s.id !== grown.statement),
    };
    expect(asText(sounds(IDEA, others))).toEqual(asText(kept));
  });
});

describe('sequence', () => {
  it('goes straight on, a step higher each time, and is called so; a copy elsewhere is not', () => {
    const grown = value(
      grow(IDEA, firstPlan('xylophone', 90), { kind: 'sequence', statement: 's1', steps: 1, copies: 3 }),
    );
    expect(grown.plan.statements.map(s => statementName(IDEA, grown.plan, s))).toEqual([
      'the motif',
      'sequence, a second higher',
      'sequence, a second higher',
      'sequence, a second higher',
    ]);
    const starts = grown.plan.statements.map(s => sounds(IDEA, { ...grown.plan, statements: [s] })[0]?.pitch);
    expect(starts).toEqual([72, 74, 76, 77]);
  });
});

describe('a copied section keeps its names', () => {
  const canon = value(
    grow(
      IDEA,
      value(grow(IDEA, firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 3 })).plan,
      { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 4, octaves: -1 },
    ),
  ).plan;
  const imitation = value(
    grow(IDEA, firstPlan('xylophone', 90), {
      kind: 'imitation',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 2,
      steps: 2,
    }),
  ).plan;
  const copied = (plan: Plan, to: number, steps: number, copies = 1): string[] => {
    const at = lastBar(IDEA, plan) + 1;
    const copy = { from: 1, to, toBar: at, copies, steps, letter: true };
    const made = value(copySection(IDEA, plan, copy)).plan;
    return made.statements.map(s => statementName(IDEA, made, s));
  };

  it('a second part is a second part, an imitation an imitation; what the edge cuts is cut short', () => {
    expect(copied(canon, 3, 0)).toEqual([
      'the motif, three times',
      'second part, at the octave, twice',
      'the motif, three times',
      'second part, at the octave, twice',
    ]);
    expect(copied(imitation, 2, 0)).toEqual([
      'the motif',
      'imitation, two beats later, a third higher',
      'the motif',
      'imitation, two beats later, a third higher',
    ]);
    expect(copied(imitation, 1, 0)[3]).toBe('imitation, two beats later, a third higher, cut short');
  });

  it('a section straight on at another height is a sequence, in every copy', () => {
    expect(copied(canon, 3, 1, 2)).toEqual([
      'the motif, three times',
      'second part, at the octave, twice',
      'sequence, a second higher, three times',
      'second part, at the octave, twice',
      'sequence, a second higher, three times',
      'second part, at the octave, twice',
    ]);
    // Its last bar rests for two beats in the part that leads; the section comes again whole.
    expect(copied(imitation, 2, -1)).toEqual([
      'the motif',
      'imitation, two beats later, a third higher',
      'sequence, a second lower',
      'imitation, two beats later, a third higher',
    ]);
  });

  it('one of two statements moved alone is no sequence', () => {
    const two = value(
      grow(IDEA, firstPlan('xylophone', 90), {
        kind: 'state',
        statement: 's1',
        treatments: [{ kind: 'retrograde' }],
        to: { part: 'p1' },
        onset: fraction(1),
      }),
    ).plan;
    const up = { kind: 'transpose', by: 'scale', steps: 1 } as const;
    const third = value(
      grow(IDEA, two, {
        kind: 'state',
        statement: 's1',
        treatments: [up],
        to: { part: 'p1' },
        onset: fraction(2),
      }),
    );
    const names = (plan: Plan): string[] => plan.statements.map(s => statementName(IDEA, plan, s));
    expect(names(third.plan)).toEqual(['the motif', 'retrograde', 'a second higher']);
    const fourth = value(
      grow(IDEA, third.plan, {
        kind: 'state',
        statement: two.statements[1]?.id ?? '',
        treatments: [up],
        to: { part: 'p1' },
        onset: fraction(3),
      }),
    );
    expect(names(fourth.plan)).toEqual([
      'the motif',
      'retrograde',
      'sequence, a second higher',
      'sequence, a second higher (retrograde)',
    ]);
  });
});

describe('rehearsal letters', () => {
  it('are lettered in order of bars, whatever the order they were set in', () => {
    const plan = toggleLetter(toggleLetter(firstPlan('xylophone', 90), 9), 5);
    expect(plan.letters).toEqual([
      { bar: 4, letter: 'A' },
      { bar: 8, letter: 'B' },
    ]);
    expect(toggleLetter(plan, 5).letters).toEqual([{ bar: 8, letter: 'A' }]);
  });
});
