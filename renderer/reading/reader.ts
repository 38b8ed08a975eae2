import { readTake } from '../../core/reading/read.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import type { Answer, Question } from './readerWorker.ts';

/** Readings of a take, best first. */
export type AskReader = (take: Take, hints: Hints) => Promise<readonly Reading[]>;

/**
 * The reader on a thread of its own, so that the page never stands still while a long take is read.
 * Where no such thread can be had, or it breaks, the page's own thread reads: slower to the eye, the
 * same readings.
 */
export const createReader = (): AskReader => {
  const waiting = new Map<
    number,
    { question: Question; done: (readings: readonly Reading[]) => void; broke: (error: unknown) => void }
  >();
  let asked = 0;
  let worker: Worker | undefined;

  const readHere = (): void => {
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
    worker = undefined;
  }

  return (take, hints) =>
    new Promise((resolve, reject) => {
      const question: Question = { number: asked, take, hints };
      asked += 1;
      if (worker === undefined) {
        resolve(readTake(take, hints));
        return;
      }
      waiting.set(question.number, { question, done: resolve, broke: reject });
      worker.postMessage(question);
    });
};
