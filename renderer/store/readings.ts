import { effect, signal } from '@preact/signals';
import { readTake } from '../../core/reading/read.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import { detailOf } from '../../core/foundation/result.ts';
import type { Take } from '../../core/take/take.ts';
import { piece, problem } from './app.ts';

type Ask = (take: Take, hints: Hints) => Promise<readonly Reading[]>;

let ask: Ask = (take, hints) => Promise.resolve(readTake(take, hints));
/** Hands the reader its own thread; until then the page's own reads. */
export const useReader = (reader: Ask): void => {
  ask = reader;
};

/** Up to five readings of the take being worked on, best first. */
export const readings = signal<readonly Reading[]>([]);
/** Whether the reader has been at work for long enough to say so. */
export const readingNow = signal(false);

/** The last questions: going back and forth with undo asks nothing twice. */
const MOST_KEPT = 24;
const kept = new Map<string, readonly Reading[]>();

/** Readings of a take under hints, from memory where it was asked before. */
export const readingsOf = async (take: Take, hints: Hints): Promise<readonly Reading[]> => {
  const name = `${take.id} ${JSON.stringify(hints)}`;
  const known = kept.get(name);
  if (known !== undefined) return known;
  const late = setTimeout(() => {
    readingNow.value = true;
  }, 250);
  try {
    const found = await ask(take, hints);
    kept.set(name, found);
    const [oldest] = kept.keys();
    if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
    return found;
  } finally {
    clearTimeout(late);
    readingNow.value = false;
  }
};

let line: Promise<void> = Promise.resolve();
/** How many things are being done or wait for their turn. */
let waiting = 0;
/**
 * What needs the reader is done one after the other, in the order asked for. Work out only there, from
 * the page as it then is, what shall be done: the one before may still be under way when a key is pressed.
 */
export const inTurn = (act: () => Promise<void>): Promise<void> => {
  waiting += 1;
  line = line
    .then(act)
    .catch((thrown: unknown) => {
      problem.value = {
        kind: 'unexpected',
        what: 'The reader stopped in the middle.',
        kept: 'The take and everything written so far are as they were.',
        next: 'Try again, or try another setting.',
        detail: detailOf(thrown),
      };
    })
    .finally(() => {
      waiting -= 1;
    });
  return line;
};

/** What needs no reader, but must not overtake what waits for it: at once where nothing does. */
export const afterReader = (act: () => void): void => {
  if (waiting === 0) act();
  else
    void inTurn(() => {
      act();
      return Promise.resolve();
    });
};

// The list beside the page follows the piece, through undo and redo too.
effect(() => {
  const now = piece.value;
  if (now === undefined) {
    readings.value = [];
    return;
  }
  void readingsOf(now.take, now.hints).then(found => {
    if (piece.value?.take === now.take && piece.value.hints === now.hints) readings.value = found;
  });
});
