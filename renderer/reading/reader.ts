import { readTake } from '../../core/reading/read.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import type { Answer, ReaderQuestion } from './readerWorker.ts';

interface Waiting {
  readonly question: ReaderQuestion;
  readonly done: (readings: readonly Reading[]) => void;
  readonly broke: (error: unknown) => void;
}

/** Readings of a take, best first. */
export interface WorkerReader {
  readonly ask: (take: Take, hints: Hints) => Promise<readonly Reading[]>;
  /** Ends the thread in the middle of whatever it reads; what was asked is never answered. */
  readonly stop: () => void;
}

/**
 * The reader on a thread of its own, so that the page never stands still while a long take is read.
 * Where no such thread can be had, or it breaks, the page's own thread reads: slower to the eye and
 * not to be stopped, the same readings.
 */
export const createReader = (): WorkerReader => {
  const waiting = new Map<number, Waiting>();
  let asked = 0;
  let worker: Worker | undefined;
  let canStart = true;

  const readHere = (): void => {
    canStart = false;
    worker?.terminate();
    worker = undefined;
    for (const [number, { question, done, broke }] of waiting) {
      waiting.delete(number);
      try {
        done(readTake(question.take, question.hints));
      } catch (error) {
        broke(error);
      }
    }
  };
  const start = (): void => {
    try {
      worker = new Worker(new URL('./readerWorker.ts', import.meta.url), { type: 'module' });
      worker.addEventListener('message', (event: MessageEvent<Answer>) => {
        const { number, readings } = event.data;
        waiting.get(number)?.done(readings);
        waiting.delete(number);
      });
      worker.addEventListener('error', readHere);
      worker.addEventListener('messageerror', readHere);
    } catch {
      canStart = false;
    }
  };
  start();

  return {
    ask: (take, hints) =>
      new Promise((resolve, reject) => {
        const question: ReaderQuestion = { number: asked, take, hints };
        asked += 1;
        waiting.set(question.number, { question, done: resolve, broke: reject });
        if (worker === undefined && canStart) start();
        if (worker === undefined) readHere();
        else worker.postMessage(question);
      }),
    stop: () => {
      worker?.terminate();
      worker = undefined;
      waiting.clear();
    },
  };
};
