import type { Take } from '../take/take.ts';
import { cleanByRepeats } from './repeats/chords.ts';
import { chooseReadings } from './writing/choose.ts';
import { readFree } from './freeBeat/freeReader.ts';
import { readOnKnownBeat } from './knownBeat/knownBeat.ts';
import { PARAMETERS } from './model/parameters.ts';
import type { Hints, Reading } from './model/reading.ts';
import { beatName, readingOf } from './writing/writeReading.ts';

/** Chance of each candidate, from costs; a little is left for what no candidate says. */
const chancesOf = (costs: readonly number[], open: boolean): number[] => {
  const { temper, among } = open ? PARAMETERS.free : PARAMETERS;
  const least = Math.min(...costs);
  const raw = costs.map(c => Math.exp(-(c - least) / temper));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map(r => (among * r) / sum);
};

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
    candidates.map((c, i) => ({ ticks: c.found.ticks, chance: chances[i] ?? 0, beat: beatName(c.beat) })),
  );
  return chosen.flatMap(i => {
    const c = candidates[i];
    return c === undefined ? [] : [readingOf(take, clean, hints, c, i, candidates, chances)];
  });
};
