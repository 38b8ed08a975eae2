import { describe, expect, it } from 'vitest';
import type { Growth } from '../../../core/growing/growth.ts';
import { motifOf, planOf } from '../../../core/piece/piece.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { positionOf } from '../../../core/plan/beats.ts';
import { writtenStep } from '../../../core/score/writtenStep.ts';
import { placesFor, targetChoices } from '../../../renderer/desk/commands/targets.ts';
import { growNow } from '../../../renderer/desk/commands/trial.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { after, pieceOf, pieceOn, SCALE, takeOf, THRICE, withPiece } from '../pieces.ts';

/** The idea in four parts at once, so that none is free where it begins. */
const inFourParts = (desk: DeskState): DeskState =>
  (['glockenspiel', 'marimba', 'vibraphone'] as const).reduce(
    (now, instrument) =>
      after(now, growNow, 'second part', {
        kind: 'second-part',
        statement: planOf(pieceOn(now)).statements[0]?.id ?? '',
        to: { newPart: instrument },
        bar: 1,
        also: [],
      }),
    desk,
  );
const six = takeOf('six', [0, 1.5, 3, 4.5], [72, 76, 79, 76], 2, metre(6, 8));

describe('where a card goes if nobody chose', () => {
  it.each([
    ['two bars of 4/4', SCALE],
    ['a bar three times', THRICE],
    ['6/8', six],
  ])('with every part taken there is a place where it can be written: %s', (_, take) => {
    const desk = inFourParts(withPiece(pieceOf(take)));
    const [motif, plan] = [motifOf(pieceOn(desk)), planOf(pieceOn(desk))];
    const [statement] = plan.statements;
    if (statement === undefined) throw new Error('nothing stated');
    const choices = targetChoices(plan);
    expect(choices.every(({ target }) => 'part' in target)).toBe(true);
    const stated = ({ target, bar }: { target: string; bar: number }): Growth => ({
      kind: 'state',
      statement: statement.id,
      treatments: [{ kind: 'invert', by: 'scale' }],
      to: choices.find(choice => choice.value === target)?.target ?? { part: '' },
      onset: positionOf(barringIn(motif, plan), bar, 1),
    });
    const places = placesFor(motif, plan, { part: statement.part, bar: 1 });
    const free = places.filter(place => writtenStep(motif, plan, stated(place)).ok);
    // Nowhere at bar 1; after all that the other parts play, in the bar it ends with, then in its own.
    expect(places.filter(place => place.bar === 1).map(place => free.includes(place))).toEqual([
      false,
      false,
      false,
    ]);
    expect(free[0]?.target).toBe(`part ${plan.parts[1]?.id ?? ''}`);
    expect(free.at(-1)?.target).toBe(`part ${plan.parts[0]?.id ?? ''}`);
    const bars = motif.length.n / motif.length.d / (motif.metre.upper / motif.metre.lower);
    expect(free[0]?.bar).toBe(bars + 1);
  });

  it('it is another instrument at the same bar, where there is one', () => {
    const desk = withPiece();
    const [motif, plan] = [motifOf(pieceOn(desk)), planOf(pieceOn(desk))];
    const [first] = placesFor(motif, plan, { part: plan.parts[0]?.id ?? '', bar: 3 });
    expect(first).toEqual({ target: 'new glockenspiel', bar: 3 });
    // Its own part comes last: after all it plays, not after the first of it.
    const [again] = plan.statements;
    if (again === undefined) throw new Error('nothing stated');
    const twice = { ...plan, statements: [again, { ...again, id: 's2', onset: { n: 5, d: 1 } }] };
    const own = placesFor(motif, twice, { part: again.part, bar: 1 }).filter(
      place => place.target === `part ${again.part}`,
    );
    expect(own.map(place => place.bar)).toEqual([8, 9]);
  });
});
