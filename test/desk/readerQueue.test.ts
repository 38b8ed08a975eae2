import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Reading } from '../../core/reading/model/reading.ts';
import { hint } from '../../renderer/desk/commands/reading.ts';
import { step } from '../../renderer/desk/commands/step.ts';
import { createReaderQueue, type Reader, type ReaderQueue } from '../../renderer/desk/readerQueue.ts';
import { crotchets, deskWithPiece, deskWithReader, slowReader } from './fixtures.ts';
import { pieceOf } from './pieces.ts';

const TAKE = crotchets('q');
const [READING] = [pieceOf().reading];

/** A reader whose answers are given by hand. */
const byHand = () => {
  const asked: { answer: (readings: readonly Reading[]) => void; fail: (error: Error) => void }[] = [];
  const reader: Reader = {
    ask: () =>
      new Promise((answer, fail) => {
        asked.push({ answer, fail });
      }),
    stop: vi.fn(),
  };
  return { reader, asked };
};
const queueOf = (reader: Reader) => {
  const said: string[] = [];
  const busy: boolean[] = [];
  const queue: ReaderQueue = createReaderQueue({
    reader,
    limit: 1000,
    shownAfter: 300,
    onBusy: now => busy.push(now),
    onProblem: problem => said.push(problem.what),
  });
  return { queue, said, busy };
};

describe('the reader queue', () => {
  beforeEach(() => {
    vi.useFakeTimers();
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('asks one question after the other, and the same question once', async () => {
    const { reader, asked } = byHand();
    const { queue } = queueOf(reader);
    const first = queue.readingsOf({ take: TAKE, hints: {} });
    const second = queue.readingsOf({ take: TAKE, hints: { letRing: true } });
    const again = queue.readingsOf({ take: TAKE, hints: {} });
    await vi.advanceTimersByTimeAsync(0);
    expect(asked.length).toBe(1);
    asked[0]?.answer([READING]);
    await vi.advanceTimersByTimeAsync(0);
    expect(asked.length).toBe(2);
    asked[1]?.answer([]);
    expect([await first, await second, await again]).toEqual([[READING], [], [READING]]);
    expect(asked.length).toBe(2);
  });

  it('shows work after 300 ms, and no longer than it lasts', async () => {
    const { reader, asked } = byHand();
    const { queue, busy } = queueOf(reader);
    const answer = queue.readingsOf({ take: TAKE, hints: {} });
    await vi.advanceTimersByTimeAsync(299);
    expect(busy).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(busy).toEqual([true]);
    asked[0]?.answer([]);
    await answer;
    await vi.advanceTimersByTimeAsync(2000);
    expect(busy).toEqual([true, false]);
  });

  it('a reader that never answers is stopped at the limit, and the next one in the queue goes on', async () => {
    const { reader, asked } = byHand();
    const { queue, said } = queueOf(reader);
    const order: string[] = [];
    const stuck = queue.inTurn(async () => {
      await queue.readingsOf({ take: TAKE, hints: {} });
      order.push('never');
    });
    queue.afterReader(() => order.push('undo'));
    await vi.advanceTimersByTimeAsync(999);
    expect([order, said]).toEqual([[], []]);
    await vi.advanceTimersByTimeAsync(1);
    await stuck;
    await vi.advanceTimersByTimeAsync(0);
    expect(order).toEqual(['undo']);
    expect(said).toEqual(['Reading took too long and was stopped.']);
    expect(reader.stop).toHaveBeenCalledTimes(1);
    // What comes late is not mistaken for the answer to a later question.
    const later = queue.readingsOf({ take: TAKE, hints: { letRing: true } });
    await vi.advanceTimersByTimeAsync(0);
    asked[0]?.answer([READING]);
    asked[1]?.answer([]);
    expect(await later).toEqual([]);
  });

  it('stopped by the teacher, gives up what is read and what waits behind it', async () => {
    const { reader, asked } = byHand();
    const { queue, said, busy } = queueOf(reader);
    const order: string[] = [];
    const one = queue.inTurn(async () => {
      await queue.readingsOf({ take: TAKE, hints: {} });
      order.push('one');
    });
    const two = queue.inTurn(() => Promise.resolve(void order.push('two')));
    await vi.advanceTimersByTimeAsync(400);
    queue.stop();
    await Promise.all([one, two]);
    expect(order).toEqual([]);
    expect(said).toEqual(['Reading was stopped, as you asked.', 'Reading was stopped, as you asked.']);
    expect([busy, asked.length]).toEqual([[true, false], 1]);
    await queue.inTurn(() => Promise.resolve(void order.push('three')));
    expect(order).toEqual(['three']);
  });

  it('an error is said, and the queue goes on', async () => {
    const { reader, asked } = byHand();
    const { queue, said } = queueOf(reader);
    const broke = queue.inTurn(async () => {
      await queue.readingsOf({ take: TAKE, hints: {} });
    });
    await vi.advanceTimersByTimeAsync(0);
    asked[0]?.fail(new Error('worker gone'));
    await broke;
    expect(said).toEqual(['The reader stopped in the middle.']);
    const order: string[] = [];
    queue.afterReader(() => order.push('at once'));
    expect(order).toEqual(['at once']);
  });

  it('remembers the last 24 questions, no more', async () => {
    const { reader, asked } = byHand();
    const { queue } = queueOf(reader);
    for (let tempo = 0; tempo <= 24; tempo++) {
      const answer = queue.readingsOf({ take: TAKE, hints: { tempo } });
      await vi.advanceTimersByTimeAsync(0);
      asked.at(-1)?.answer([]);
      await answer;
    }
    await queue.readingsOf({ take: TAKE, hints: { tempo: 1 } });
    expect(asked.length).toBe(25);
    void queue.readingsOf({ take: TAKE, hints: { tempo: 0 } });
    await vi.advanceTimersByTimeAsync(0);
    expect(asked.length).toBe(26);
  });
});

describe('asking', () => {
  it('the list beside the page follows the piece, and is never that of another', async () => {
    const { desk, asking, settled } = await deskWithPiece();
    const offered = desk.readings.value;
    expect(offered.length).toBeGreaterThan(1);
    const done = await asking.ask(hint, 'rings', { letRing: true });
    await settled();
    expect([done, desk.readings.value === offered]).toEqual([true, false]);
    expect(desk.readings.value[0]?.notes.map(n => n.strike)).toEqual([0, 1, 2, 3]);
  });

  it('a reader that breaks says so on the desk, and what was written stays', async () => {
    const { desk, asking, settled } = await deskWithPiece();
    const { piece } = desk;
    const before = piece.value;
    const broken = deskWithReader({ ask: () => Promise.reject(new Error('gone')), stop: () => undefined });
    expect(await broken.asking.ask(hint, 'rings', { letRing: true })).toBe(false);
    expect(broken.desk.problem.value).toBeUndefined();
    desk.run(step, 'title', old => ({ ...old, title: 'T' }));
    await settled();
    expect([piece.value?.title, before?.title]).toEqual(['T', 'One']);
    asking.dispose();
  });

  it('after dispose the list follows no more', async () => {
    const { desk, asking, settled } = await deskWithPiece(slowReader);
    const offered = desk.readings.value;
    asking.dispose();
    desk.run(step, 'hints', old => ({ ...old, hints: { letRing: true } }));
    await settled();
    expect(desk.readings.value).toBe(offered);
  });
});
