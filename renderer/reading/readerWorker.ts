import { readTake } from '../../core/reading/read.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { PhraseHeard, WrittenSoFar } from '../../core/reading/whilePlaying/soFar.ts';
import { writeOn } from '../../core/reading/whilePlaying/writeOn.ts';
import type { Take } from '../../core/take/take.ts';

/** What the page asks of the reader's own thread, and what it answers. */
export type ReaderQuestion = { readonly number: number } & (
  | { readonly take: Take; readonly hints: Hints }
  | { readonly before: WrittenSoFar | undefined; readonly heard: PhraseHeard }
);
export type Answer = { readonly number: number } & (
  { readonly readings: readonly Reading[] } | { readonly soFar: WrittenSoFar }
);

self.addEventListener('message', (event: MessageEvent<ReaderQuestion>) => {
  const asked = event.data;
  const { number } = asked;
  const answer: Answer =
    'take' in asked
      ? { number, readings: readTake(asked.take, asked.hints) }
      : { number, soFar: writeOn(asked.before, asked.heard) };
  self.postMessage(answer);
});
