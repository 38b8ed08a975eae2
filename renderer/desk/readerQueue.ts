import { detailOf, type Problem } from '../../core/foundation/result.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import type { Question } from './command.ts';

/** Readings of a take, best first; rejects when it is stopped. */
export interface Reader {
  readonly ask: (take: Take, hints: Hints) => Promise<readonly Reading[]>;
  /** Gives up whatever is being read; the next question is answered as usual. */
  readonly stop: () => void;
}

/** Thrown where a question was given up, by the time limit or by the teacher. */
class Stopped extends Error {
  readonly why: 'time' | 'teacher';
  constructor(why: 'time' | 'teacher') {
    super(`stopped: ${why}`);
    this.why = why;
  }
}

export interface ReaderQueueOptions {
  readonly reader: Reader;
  /** Longest time one question may take, in ms. */
  readonly limit: number;
  /** After how long work is shown, in ms. */
  readonly shownAfter: number;
  readonly onBusy: (busy: boolean) => void;
  readonly onProblem: (problem: Problem) => void;
}

/** Everything that needs the reader, one after the other. */
export interface ReaderQueue {
  /** Readings under hints, from memory where they were asked before. Rejects when stopped. */
  readonly readingsOf: (question: Question) => Promise<readonly Reading[]>;
  /**
   * Does something when everything asked before is done. Work out only there, from the desk as it then
   * is, what shall be done. Never rejects: what breaks or is stopped is said, and the next goes on.
   */
  readonly inTurn: (act: () => Promise<void>) => Promise<void>;
  /** What needs no reader, but must not overtake what waits for it: at once where nothing does. */
  readonly afterReader: (act: () => void) => void;
  /** Gives up what is being read now, and everything that waits behind it. */
  readonly stop: () => void;
  readonly dispose: () => void;
}

/** The last questions: going back and forth with undo asks nothing twice. */
const MOST_KEPT = 24;

const PAGE_KEPT = 'The take and everything written so far are as they were.';
const problemOf = (thrown: unknown): Problem =>
  thrown instanceof Stopped
    ? {
        kind: 'too-large',
        what:
          thrown.why === 'time'
            ? 'Reading took too long and was stopped.'
            : 'Reading was stopped, as you asked.',
        kept: PAGE_KEPT,
        next: 'Set a click, a metre or a larger smallest value, or catch a shorter phrase.',
      }
    : {
        kind: 'unexpected',
        what: 'The reader stopped in the middle.',
        kept: PAGE_KEPT,
        next: 'Try again, or try another setting.',
        detail: detailOf(thrown),
      };

export const createReaderQueue = (options: ReaderQueueOptions): ReaderQueue => {
  const { reader } = options;
  const known = new Map<string, readonly Reading[]>();
  let line: Promise<void> = Promise.resolve();
  let waiting = 0;
  /** Raised by every stop: what was asked before it is given up. */
  let round = 0;
  let giveUp: ((why: Stopped['why']) => void) | undefined;

  const remember = (name: string, found: readonly Reading[]): void => {
    known.set(name, found);
    const [oldest] = known.keys();
    if (known.size > MOST_KEPT && oldest !== undefined) known.delete(oldest);
  };

  /** One question at a time reaches the reader, so that what is stopped is what is meant. */
  const ask = ({ take, hints }: Question): Promise<readonly Reading[]> =>
    new Promise((resolve, reject) => {
      const late = setTimeout(() => {
        options.onBusy(true);
      }, options.shownAfter);
      const tooLong = setTimeout(() => {
        stopWith('time');
      }, options.limit);
      const settle = (): void => {
        clearTimeout(late);
        clearTimeout(tooLong);
        giveUp = undefined;
        options.onBusy(false);
      };
      const stopWith = (why: Stopped['why']): void => {
        settle();
        reject(new Stopped(why));
        reader.stop();
      };
      giveUp = stopWith;
      reader.ask(take, hints).then(
        found => {
          if (giveUp !== stopWith) return;
          settle();
          resolve(found);
        },
        (thrown: unknown) => {
          if (giveUp !== stopWith) return;
          settle();
          reject(thrown instanceof Error ? thrown : new Error(String(thrown)));
        },
      );
    });

  let asking: Promise<unknown> = Promise.resolve();
  const readingsOf = (question: Question): Promise<readonly Reading[]> => {
    const name = `${question.take.id} ${JSON.stringify(question.hints)}`;
    const mine = round;
    const answer = asking.then(async () => {
      const found = known.get(name);
      if (found !== undefined) return found;
      if (mine !== round) throw new Stopped('teacher');
      const read = await ask(question);
      remember(name, read);
      return read;
    });
    asking = answer.catch(() => undefined);
    return answer;
  };

  const inTurn = (act: () => Promise<void>): Promise<void> => {
    waiting += 1;
    const mine = round;
    line = line
      .then(() => {
        if (mine !== round) throw new Stopped('teacher');
        return act();
      })
      .catch((thrown: unknown) => {
        options.onProblem(problemOf(thrown));
      })
      .finally(() => {
        waiting -= 1;
      });
    return line;
  };

  const stop = (): void => {
    round += 1;
    giveUp?.('teacher');
  };

  return {
    readingsOf,
    inTurn,
    afterReader: act => {
      if (waiting === 0) act();
      else
        void inTurn(() => {
          act();
          return Promise.resolve();
        });
    },
    stop,
    dispose: stop,
  };
};
