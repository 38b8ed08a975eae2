import { itemAt } from './model/at.ts';
import type { Take } from '../take/take.ts';
import { cleanByRepeats } from './repeats/chords.ts';
import { chooseReadings } from './writing/choose.ts';
import { readFree } from './freeBeat/freeReader.ts';
import { readOnKnownBeat } from './knownBeat/knownBeat.ts';
import { byPage } from './knownBeat/byPage.ts';
import { beatWasHeard, readPageAgain } from './knownBeat/seenPage.ts';
import type { Candidate } from './onBeat/onBeat.ts';
import { latticeOf, TICKS } from './search/lattice.ts';
import type { CleanTake } from '../take/clean.ts';

import type { Hints, Reading, SeenPage } from './model/reading.ts';
import { beatName, readingOf } from './writing/writeReading.ts';
import { chancesOf, confidencesOf } from './writing/chances.ts';

/**
 * Up to five ways of writing a take, best first; none when nothing was struck.
 * With a click (or taps) places are counted from the click's first beat; without one from the
 * barline the reader infers.
 * @example readTake({ id: '', capturedAt: '', source: 'file', from: '', latency: 0, lengthsMean: false, strikes: [] }) // => []
 */
export const readTake = (take: Take, hints: Hints = {}): Reading[] => {
  const struck = cleanByRepeats(take, new Set((hints.pins ?? []).map(p => p.strike)));
  if (struck.events.length === 0) return [];
  const { clean, candidates } =
    hints.page === undefined ? readAnew(take, struck, hints) : readAgain(take, struck, hints, hints.page);
  const chances = chancesOf(
    candidates.map(c => c.cost),
    candidates[0]?.beat.open ?? false,
  );
  const confidences = confidencesOf(
    chances,
    candidates.map(c => c.rhythm),
  );
  const chosen = chooseReadings(
    candidates.map((c, i) => ({ ticks: c.found.ticks, chance: itemAt(chances, i), beat: beatName(c.beat) })),
  );
  return chosen.flatMap(i => {
    const c = candidates[i];
    return c === undefined
      ? []
      : [readingOf(take, clean, hints, c, candidates, chances, itemAt(confidences, i))];
  });
};

/** What was struck, as it is read, and the ways of writing it, cheapest first. */
interface Read {
  readonly clean: CleanTake;
  readonly candidates: readonly Candidate[];
}

const readAnew = (take: Take, clean: CleanTake, hints: Hints): Read => ({
  clean,
  candidates: readOnKnownBeat(take, clean, hints) ?? readFree(take, clean, hints),
});

const readAgain = (take: Take, struck: CleanTake, hints: Hints, page: SeenPage): Read => {
  const heard = beatWasHeard(take, hints);
  const cell = latticeOf(page.metre).cells[0]?.length ?? TICKS / 4;
  const gathered = byPage(take, struck, hints, page, cell, !heard);
  return { clean: gathered.clean, candidates: readPageAgain(hints, page, gathered, heard) };
};
