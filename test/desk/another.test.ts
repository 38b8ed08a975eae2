import { expect, it } from 'vitest';
import { openEntry, startPiece } from '../../renderer/desk/commands/open.ts';
import { edit, redoStep, undoStep } from '../../renderer/desk/commands/step.ts';
import { crotchets, deskWithReader } from './fixtures.ts';

it('a piece that was not kept comes back by undo when another is caught or opened over it', async () => {
  const { desk, asking } = deskWithReader();
  await asking.ask(startPiece, { take: crotchets('one'), title: 'One', id: 'piece-1', pupil: undefined });
  desk.run(edit, 'make it a rest', { kind: 'rest', note: 1 });
  const one = desk.piece.value;
  await asking.ask(startPiece, { take: crotchets('two'), title: 'Two', id: 'piece-2', pupil: undefined });
  const two = desk.piece.value;
  expect([two?.title, desk.history.value?.past.at(-1)?.name]).toEqual(['Two', 'begin Two']);
  desk.run(undoStep);
  expect(desk.piece.value).toBe(one);
  desk.run(redoStep);
  expect(desk.piece.value).toBe(two);
  if (one !== undefined) desk.run(openEntry, { id: one.id, revision: 'r1', piece: one });
  expect(desk.history.value?.past.at(-1)?.name).toBe('open One');
  expect(desk.isKept.value).toBe(true);
  desk.run(undoStep);
  expect(desk.piece.value).toBe(two);
  expect(desk.isKept.value).toBe(false);
});
