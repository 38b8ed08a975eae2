import { readTake } from '../../core/reading/read.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { PhraseHeard, WrittenSoFar } from '../../core/reading/whilePlaying/soFar.ts';
import type { Take } from '../../core/take/take.ts';
import type { Answer, ReaderQuestion } from './readerWorker.ts';

interface Waiting {
  readonly take: Take;
  readonly hints: Hints;
  readonly done: (readings: readonly Reading[]) => void;
  readonly broke: (error: unknown) => void;
}

/** Readings of a take, best first. */
export interface WorkerReader {
  readonly ask: (take: Take, hints: Hints) => Promise<readonly Reading[]>;
  /** A phrase written on while it is played; undefined where the thread cannot be had or was stopped. */
  readonly writeOn: (
    before: WrittenSoFar | undefined,
    heard: PhraseHeard,
  ) => Promise<WrittenSoFar | undefined>;
  /** Ends the thread in the middle of whatever it reads; what was asked is never answered. */
  readonly stop: () => void;
}

/**
 * The reader on a thread of its own, so that the page never stands still while a long take is read.
 * Where no such thread can be had, or it breaks, the page's own thread reads: slower to the eye and
 * not to be stopped, the same readings. Nothing is written while somebody plays there: the page must not wait.
 */
export const createReader = (): WorkerReader => {
  const waiting = new Map<number, Waiting>();
  const writing = new Map<number, (so: WrittenSoFar | undefined) => void>();
  let asked = 0;
  let worker: Worker | undefined;
  let canStart = true;

  const giveUpWriting = (): void => {
    for (const [number, done] of writing) {
      writing.delete(number);
      done(undefined);
    }
  };
  const readHere = (): void => {
    canStart = false;
    worker?.terminate();
    worker = undefined;
    giveUpWriting();
    for (const [number, { take, hints, done, broke }] of waiting) {
      waiting.delete(number);
      try {
        done(readTake(take, hints));
      } catch (error) {
        broke(error);
      }
    }
  };
  const start = (): void => {
    try {
      worker = new Worker(new URL('./readerWorker.ts', import.meta.url), { type: 'module' });
      worker.addEventListener('message', (event: MessageEvent<Answer>) => {
        const answer = event.data;
        if ('soFar' in answer) writing.get(answer.number)?.(answer.soFar);
        else waiting.get(answer.number)?.done(answer.readings);
        waiting.delete(answer.number);
        writing.delete(answer.number);
      });
      worker.addEventListener('error', readHere);
      worker.addEventListener('messageerror', readHere);
    } catch {
      canStart = false;
    }
  };
  start();
  /** Whether a thread was there to be asked. */
  const post = (question: ReaderQuestion): boolean => {
    if (worker === undefined && canStart) start();
    worker?.postMessage(question);
    return worker !== undefined;
  };

  return {
    ask: (take, hints) =>
      new Promise((resolve, reject) => {
        const number = asked++;
        waiting.set(number, { take, hints, done: resolve, broke: reject });
        if (!post({ number, take, hints })) readHere();
      }),
    writeOn: (before, heard) =>
      new Promise(resolve => {
        const number = asked++;
        writing.set(number, resolve);
        if (!post({ number, before, heard })) giveUpWriting();
      }),
    stop: () => {
      worker?.terminate();
      worker = undefined;
      waiting.clear();
      giveUpWriting();
    },
  };
};
