import { readTake } from '../../core/reading/read.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';

/** What the page asks of the reader's own thread, and what it answers. */
export interface ReaderQuestion {
  readonly number: number;
  readonly take: Take;
  readonly hints: Hints;
}
export interface Answer {
  readonly number: number;
  readonly readings: readonly Reading[];
}

self.addEventListener('message', (event: MessageEvent<ReaderQuestion>) => {
  const { number, take, hints } = event.data;
  const answer: Answer = { number, readings: readTake(take, hints) };
  self.postMessage(answer);
});
