import { itemAt } from './model/at.ts';
import type { Take } from '../take/take.ts';
import { cleanByRepeats } from './repeats/chords.ts';
import { chooseReadings } from './writing/choose.ts';
import { readFree } from './freeBeat/freeReader.ts';
import { readOnKnownBeat } from './knownBeat/knownBeat.ts';

import type { Hints, Reading } from './model/reading.ts';
import { beatName, readingOf } from './writing/writeReading.ts';
import { chancesOf } from './writing/chances.ts';

/**
 * Up to five ways of writing a take, best first; none when nothing was struck.
 * With a click (or taps) places are counted from the click's first beat; without one from the
 * barline the reader infers.
 */
export const readTake = (take: Take, hints: Hints = {}): Reading[] => {
  const clean = cleanByRepeats(take, new Set((hints.pins ?? []).map(p => p.strike)));
  if (clean.events.length === 0) return [];
  const candidates = readOnKnownBeat(take, clean, hints) ?? readFree(take, clean, hints);
  const chances = chancesOf(
    candidates.map(c => c.cost),
    candidates[0]?.beat.open ?? false,
  );
  const chosen = chooseReadings(
    candidates.map((c, i) => ({ ticks: c.found.ticks, chance: itemAt(chances, i), beat: beatName(c.beat) })),
  );
  return chosen.flatMap(i => {
    const c = candidates[i];
    return c === undefined ? [] : [readingOf(take, clean, hints, c, i, candidates, chances)];
  });
};
