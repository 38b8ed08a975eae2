import { beforeEach, describe, expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import { toNumber } from '../../core/foundation/fraction.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';
import { piece, reading, selectedNotes, work } from '../../renderer/store/app.ts';
import { chooseReading, redoStep, startPiece, undoStep } from '../../renderer/store/change.ts';
import { move } from '../../renderer/store/correct.ts';
import { inTurn, readings, useReader } from '../../renderer/store/readings.ts';

/** Four crotchets at 120, then room. */
const take = (id: string): Take => ({
  id,
  capturedAt: '2026-01-01T00:00:00.000Z',
  source: 'midi',
  from: 'pad',
  click: { metre: metre(4, 4), beats: [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4] },
  latency: 0,
  lengthsMean: false,
  strikes: [0, 0.5, 1, 1.5].map((at, i) => ({ at, pitch: 72 + i, velocity: 90 })),
});

/** A reader that answers later, as the one on its own thread does. */
const slow = async (...question: Parameters<typeof readTake>): Promise<ReturnType<typeof readTake>> => {
  await new Promise(resolve => setTimeout(resolve, 3));
  return readTake(...question);
};
/** Until everything asked for is done. */
const settled = (): Promise<void> => inTurn(() => Promise.resolve());
const placeOf = (strike: number): number | undefined => {
  const note = reading.value?.notes.find(n => n.strike === strike);
  return note === undefined ? undefined : toNumber(note.onset) * 16;
};
let first = 0;
/** Steps since the piece was begun. */
const steps = (): number => (work.value?.past.length ?? 0) - first;

let takes = 0;
beforeEach(async () => {
  useReader(slow);
  await startPiece(take(`turn-${String((takes += 1))}`), 'Idea');
  selectedNotes.value = [3];
  first = work.value?.past.length ?? 0;
});

describe('keys pressed faster than the reader answers', () => {
  it('twenty moves are twenty steps, in order', async () => {
    expect(placeOf(3)).toBe(12);
    for (let k = 0; k < 20; k++) move(1);
    await settled();
    expect([placeOf(3), steps()]).toEqual([32, 20]);
  });

  it('moves there and back end where they began', async () => {
    for (const way of [1, 1, -1, 1, -1, -1] as const) move(way);
    await settled();
    expect([placeOf(3), steps()]).toEqual([12, 6]);
  });

  it('a move only here follows on a move that is still being read', async () => {
    move(1);
    move(1, true);
    await settled();
    expect([placeOf(3), steps()]).toEqual([14, 2]);
  });

  it('undo takes back the last key pressed, not the last one answered', async () => {
    const before = piece.value;
    move(1);
    undoStep();
    await settled();
    expect([piece.value === before, steps()]).toEqual([true, 0]);
    redoStep();
    expect(placeOf(3)).toBe(13);
  });

  it('a reading chosen while a move is being read keeps the move', async () => {
    await settled();
    expect(readings.value.length).toBeGreaterThan(1);
    move(1);
    chooseReading(1);
    await settled();
    await settled();
    expect(placeOf(3)).toBe(13);
    expect(steps()).toBe(2);
  });
});
