import { planOf } from '../../../core/piece/piece.ts';
import type { DeskState } from '../state.ts';

/** Whether the last step made this same piece grow: then going back means taking that step back. */
export const lastStepGrew = (desk: DeskState): boolean => {
  const { history } = desk.document;
  const before = history?.past.at(-1)?.state.piece;
  const now = history?.present.piece;
  return (
    before !== undefined &&
    now !== undefined &&
    before.id === now.id &&
    JSON.stringify(planOf(before).statements) !== JSON.stringify(planOf(now).statements)
  );
};
