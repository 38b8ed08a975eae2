/**
 * What a program needs to play a teacher who corrects the reader's pages: it counts how many decisions
 * a page takes. Everything here does exactly what the app does (renderer, `pin`), through the same
 * functions; keep it so.
 */
import { showMetre } from '../../core/foundation/metre.ts';
import { movedStrikes, pageAfter, type Pin, withPins, withRepeats } from '../../core/piece/rereading.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';

export { readTake } from '../../core/reading/read.ts';
export { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';

/** The metre as it is written: "6/8". */
export const metreOf = (reading: Reading): string => showMetre(reading.metre);

/**
 * The page after notes were put in their place, and what the reader was told to get there.
 * @param pins places in semibreves from the page's first barline
 */
export const correct = (
  take: Take,
  hints: Hints,
  page: Reading,
  pins: readonly Pin[],
): { readonly hints: Hints; readonly page: Reading | undefined } => {
  const [best] = readTake(take, hints);
  const wasBest = best !== undefined && movedStrikes(best, page).length === 0;
  const next = withPins({ take, hints, reading: page }, withRepeats(page, pins));
  return { hints: next, page: pageAfter(page, wasBest, next, readTake(take, next)) };
};
