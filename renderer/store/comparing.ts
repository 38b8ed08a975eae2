import { hearSettings, piece, reading, writeScore } from './app.ts';
import type { HearOptions, Listening } from './hear.ts';

/** Speeds offered, in per cent. */
export const SPEEDS: readonly number[] = [100, 90, 80, 70, 60, 50];

const options = (): HearOptions => {
  const { speed, bar, click } = hearSettings.value;
  return { rate: speed / 100, click, ...(bar === undefined ? {} : { bar }) };
};

/** The page of Write, as it is chosen to be heard. */
export const hearPage = (listening: Listening): void => {
  if (writeScore.value !== undefined) listening.score('page', writeScore.value, options());
};

/** The take as it was played. */
export const hearTake = (listening: Listening): void => {
  const now = piece.value;
  if (now !== undefined && reading.value !== undefined)
    listening.take(now.take, reading.value, now.instrument, options());
};

/** The take with the page in its time: where they part, two strokes are heard. */
export const hearBoth = (listening: Listening): void => {
  const now = piece.value;
  if (now !== undefined && reading.value !== undefined && writeScore.value !== undefined)
    listening.both(now.take, reading.value, writeScore.value, now.instrument, options());
};
