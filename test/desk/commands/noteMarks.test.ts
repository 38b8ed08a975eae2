import { expect, it } from 'vitest';
import { planOf } from '../../../core/piece/piece.ts';
import { selectStatement } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { changeByHand, toggleNoteMark } from '../../../renderer/desk/commands/statements.ts';
import { fromSafe, toSafe } from '../../../renderer/desk/safe.ts';
import { FIRST_DESK } from '../../../renderer/desk/state.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, takeOf, withPiece } from '../pieces.ts';

const fresh = withPiece(pieceOf(takeOf('bar', [0, 1, 2, 3], [72, 74, 76, 79], 1)));
const ROLL = { time: 0, note: 2, mark: 'roll' } as const;

it('a mark on one note leaves its statement tied, and is taken away by the same again', () => {
  const rolled = after(fresh, toggleNoteMark, 's1', 'E5 rolled', ROLL);
  const [first] = planOf(pieceOn(rolled)).statements;
  expect([first?.noteMarks, lastStep(rolled)]).toEqual([[ROLL], 'E5 rolled']);
  expect(first).not.toHaveProperty('detached');
  expect(planOf(pieceOn(after(rolled, toggleNoteMark, 's1', 'E5 not rolled', ROLL)))).toEqual(
    planOf(pieceOn(fresh)),
  );
  expect(planOf(pieceOn(after(rolled, undoStep)))).toEqual(planOf(pieceOn(fresh)));
  const moved = after(rolled, changeByHand, 's1', 'E5 higher', { kind: 'steps', note: 2, steps: 1 });
  expect(planOf(pieceOn(moved)).statements[0]?.noteMarks).toEqual([ROLL]);
  expect(after(EMPTY, toggleNoteMark, 's1', 'x', ROLL)).toBe(EMPTY);
});

it('which time through was chosen survives a reload', () => {
  const chosen = after(fresh, selectStatement, 's1', { statement: 's1', index: 2, time: 3 });
  const stored: unknown = JSON.parse(JSON.stringify(toSafe(chosen, 0)));
  expect(fromSafe(FIRST_DESK, stored, 0)?.session.selectedPlanNote).toEqual({
    statement: 's1',
    index: 2,
    time: 3,
  });
});
