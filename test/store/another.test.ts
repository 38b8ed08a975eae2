import { expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import type { Take } from '../../core/take/take.ts';
import { piece, work } from '../../renderer/store/app.ts';
import { edit, openPiece, redoStep, startPiece, undoStep } from '../../renderer/store/change.ts';

const take = (id: string): Take => ({
  id,
  capturedAt: '2026-01-01T00:00:00.000Z',
  source: 'midi',
  from: 'pad',
  click: { metre: metre(4, 4), beats: [0, 0.5, 1, 1.5, 2] },
  latency: 0,
  lengthsMean: false,
  strikes: [0, 0.5, 1, 1.5].map((at, i) => ({ at, pitch: 72 + i, velocity: 90 })),
});

it('a piece that was not kept comes back by undo when another is caught or opened over it', async () => {
  await startPiece(take('one'), 'One');
  edit('make it a rest', { kind: 'rest', note: 1 });
  const one = piece.value;
  await startPiece(take('two'), 'Two');
  const two = piece.value;
  expect([two?.title, work.value?.past.at(-1)?.name]).toEqual(['Two', 'begin Two']);
  undoStep();
  expect(piece.value).toBe(one);
  redoStep();
  expect(piece.value).toBe(two);
  if (one !== undefined) openPiece(one);
  expect(work.value?.past.at(-1)?.name).toBe('open One');
  undoStep();
  expect(piece.value).toBe(two);
});
