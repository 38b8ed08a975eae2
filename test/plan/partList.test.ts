import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { detach, editByHand, retie } from '../../core/growing/detach.ts';
import {
  afterThe,
  balancePart,
  giveInstrument,
  partName,
  removePart,
  renamePart,
  shiftPart,
} from '../../core/plan/partList.ts';
import { addPart } from '../../core/plan/change.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { passageOf } from '../../core/plan/statement.ts';
import { asText, IDEA, plans, sounds } from './motifs.ts';

const withTwo = (plan: Plan): Plan => {
  const added = addPart(plan, 'xylophone');
  if (!added.ok) throw new Error(added.problem.what);
  return added.value.plan;
};

test('two parts of one instrument are told apart by number, or by names of their own', () => {
  const plan = withTwo(firstPlan('xylophone', 90));
  const names = (p: Plan): string[] => p.parts.map(part => partName(p, part));
  expect(names(plan)).toEqual(['Xylophone 1', 'Xylophone 2']);
  const second = plan.parts[1]?.id ?? '';
  expect(names(renamePart(plan, second, ' The echo '))).toEqual(['Xylophone', 'The echo']);
  expect(names(renamePart(renamePart(plan, second, 'x'), second, ''))).toEqual(names(plan));
  expect(names(giveInstrument(plan, second, 'marimba'))).toEqual(['Xylophone', 'Marimba']);
});

// Common practice, no source: English has one article before a noun.
test('a part called The echo is never the the echo', () => {
  expect(['The echo', 'THE  Wind', 'Xylophone', 'Theodora', 'The', 'the the'].map(afterThe)).toEqual([
    'echo',
    'wind',
    'xylophone',
    'theodora',
    'the',
    'the',
  ]);
});

test('a part goes up and down the page, stops at its ends, and goes with all it plays', () => {
  fc.assert(
    fc.property(plans, plan => {
      expect(shiftPart(plan, 'p1', -1)).toBe(plan);
      expect(shiftPart(shiftPart(plan, 'p1', 1), 'p1', -1).parts).toEqual(plan.parts);
      const left = removePart(plan, 'p1');
      expect(asText(sounds(IDEA, left))).toEqual(asText(sounds(IDEA, plan).filter(n => n.part === 'p2')));
      expect(removePart(left, 'p2')).toBe(left);
    }),
  );
});

test('balance stays within what a desk can do', () => {
  const plan = firstPlan('xylophone', 90);
  expect(balancePart(plan, 'p1', 40).parts[0]?.balance).toBe(6);
  expect(balancePart(plan, 'p1', -90).parts[0]?.balance).toBe(-24);
  expect(balancePart(balancePart(plan, 'p1', -6), 'p1', 0).parts).toEqual(plan.parts);
});

test('a statement untied sounds the same; a hand edit unties it; tied again it follows the motif', () => {
  const plan = firstPlan('xylophone', 90);
  const untied = detach(IDEA, plan, 's1');
  expect(asText(sounds(IDEA, untied))).toEqual(asText(sounds(IDEA, plan)));
  const edited = editByHand(IDEA, plan, 's1', { kind: 'steps', note: 1, steps: 1 });
  expect(sounds(IDEA, edited).map(n => n.pitch)).toEqual([72, 77, 79, 76, 74]);
  const higher = { ...IDEA, notes: IDEA.notes.map(n => ({ ...n, degree: n.degree + 1 })) };
  expect(sounds(higher, edited).map(n => n.pitch)).toEqual([72, 77, 79, 76, 74]);
  expect(retie(edited, 's1')).toEqual(plan);
});

test('a hand edit never leaves the statement’s own length', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.record({
          kind: fc.constantFrom('move' as const, 'length' as const),
          note: fc.nat(6),
          by: fc.integer({ min: -12, max: 12 }).map(n => fraction(n, 16)),
        }),
        { maxLength: 12 },
      ),
      edits => {
        const plan = edits.reduce((so, e) => editByHand(IDEA, so, 's1', e), firstPlan('xylophone', 90));
        const [statement] = plan.statements;
        if (statement === undefined) throw new Error('gone');
        const { notes, length } = passageOf(IDEA, statement);
        for (const n of notes) {
          expect(n.onset.n).toBeGreaterThanOrEqual(0);
          expect(n.duration.n).toBeGreaterThan(0);
          expect(n.onset.n / n.onset.d + n.duration.n / n.duration.d).toBeLessThanOrEqual(
            length.n / length.d + 1e-9,
          );
        }
      },
    ),
  );
});
