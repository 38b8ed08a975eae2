import { metre } from '../../core/foundation/metre.ts';
import type { Problem } from '../../core/foundation/result.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';
import { type Asking, createAsking } from '../../renderer/desk/asking.ts';
import { complain } from '../../renderer/desk/commands/messages.ts';
import { startPiece } from '../../renderer/desk/commands/open.ts';
import { setBusy } from '../../renderer/desk/commands/reading.ts';
import { createDesk, type Desk } from '../../renderer/desk/desk.ts';
import { createReaderQueue, type Reader } from '../../renderer/desk/readerQueue.ts';

/** Four crotchets at 120 to a click, then silence. */
export const crotchets = (id: string): Take => ({
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
export const slowReader: Reader = {
  ask: async (take, hints) => {
    await new Promise(resolve => setTimeout(resolve, 3));
    return readTake(take, hints);
  },
  stop: () => undefined,
};

export interface TestDesk {
  readonly desk: Desk;
  readonly asking: Asking;
  /** Until everything asked for is done. */
  readonly settled: () => Promise<void>;
}

/** A desk with a reader, as main makes them. @param limit longest time a question may take, in ms */
export const deskWithReader = (reader: Reader = slowReader, limit = 20_000): TestDesk => {
  const desk = createDesk();
  const queue = createReaderQueue({
    reader,
    limit,
    shownAfter: 5,
    onBusy: busy => {
      desk.run(setBusy, busy);
    },
    onProblem: (problem: Problem) => {
      desk.run(complain, problem);
    },
  });
  const asking = createAsking(desk, queue);
  return { desk, asking, settled: () => queue.inTurn(() => Promise.resolve()) };
};

/** A desk with a piece of four crotchets on it. */
export const deskWithPiece = async (reader?: Reader): Promise<TestDesk> => {
  const made = deskWithReader(reader);
  await made.asking.ask(startPiece, {
    take: crotchets('one'),
    title: 'One',
    id: 'piece-1',
    pupil: undefined,
  });
  await made.settled();
  return made;
};
