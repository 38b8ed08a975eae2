import { itemAt } from './model/at.ts';
import type { Take } from '../take/take.ts';
import { cleanByRepeats } from './repeats/chords.ts';
import { chooseReadings } from './writing/choose.ts';
import { readFree } from './freeBeat/freeReader.ts';
import { readOnKnownBeat } from './knownBeat/knownBeat.ts';
import { byPage } from './knownBeat/byPage.ts';
import { beatWasHeard, readPageAgain } from './knownBeat/seenPage.ts';
import type { Candidate } from './onBeat/onBeat.ts';
import { onBeatOf, onPageOf } from './onBeat/quick.ts';
import { latticeOf, TICKS } from './search/lattice.ts';
import { type CleanTake, leadingNotes } from '../take/clean.ts';
import { type QuickStrokes, quickStrokes, sameQuick } from '../take/quickStrokes.ts';
import { LEADING } from './repeats/constants.ts';

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
  const pinned = new Set((hints.pins ?? []).map(p => p.strike));
  const quick = quickStrokes(take, pinned);
  const { page } = hints;
  const { clean, candidates } =
    page === undefined
      ? readUnmeasured(take, quick, pinned, hints)
      : readAgain(take, onPage(take, onPageOf(quick, page), pinned, page), hints, page);
  if (clean.events.length === 0) return [];
  const chances = chancesOf(
    candidates.map(c => c.cost),
    candidates[0]?.beat.open ?? false,
  );
  const confidences = confidencesOf(
    chances,
    candidates.map(c => c.rhythm),
  );
  const chosen = chooseReadings(
    candidates.map((c, i) => ({
      ticks: c.found.ticks,
      chance: itemAt(chances, i),
      beat: beatName(c.beat),
      kind: c.beat.lattice.cells[0]?.parts ?? 2,
    })),
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

/**
 * Fast strokes on one bar, or on two in turn, are one note rolled, and over neighbouring bars one that is drawn, unless
 * they keep the time of the beat that everything else is read on: those are notes.
 */
const readUnmeasured = (take: Take, quick: QuickStrokes, pinned: ReadonlySet<number>, hints: Hints): Read => {
  const read = readWithLeading(take, quick, pinned, hints);
  const map = read.candidates[0]?.beat.map;
  const signs = map === undefined ? quick : onBeatOf(quick, take, map);
  return sameQuick(signs, quick) ? read : readWithLeading(take, signs, pinned, hints);
};

/** What may be a leading note, and is not pinned. */
const leadingIn = (
  take: Take,
  struck: CleanTake,
  pinned: ReadonlySet<number>,
): ReadonlyMap<number, readonly number[]> =>
  new Map([...leadingNotes(take, struck)].filter(([, soft]) => !soft.some(s => pinned.has(s))));

/**
 * Soft blows just before louder ones are read as notes and as grace notes, and stay what costs less: quick
 * notes have places of their own, leading notes force the finest values on a page that needs none.
 */
const readWithLeading = (
  take: Take,
  quick: QuickStrokes,
  pinned: ReadonlySet<number>,
  hints: Hints,
): Read => {
  const struck = cleanByRepeats(take, pinned, undefined, quick);
  if (struck.events.length === 0) return { clean: struck, candidates: [] };
  const asNotes = readAnew(take, struck, hints);
  const leading = leadingIn(take, struck, pinned);
  if (leading.size === 0) return asNotes;
  const asGraces = readAnew(take, cleanByRepeats(take, pinned, leading, quick), hints);
  const costOf = (read: Read): number => read.candidates[0]?.cost ?? Infinity;
  const price = LEADING.habit + LEADING.each * [...leading.values()].flat().length;
  return costOf(asGraces) + price < costOf(asNotes) ? asGraces : asNotes;
};

/** The take cleaned as the page was: what has no position there and may lean on the next note is a grace note. */
const onPage = (take: Take, quick: QuickStrokes, pinned: ReadonlySet<number>, page: SeenPage): CleanTake => {
  const struck = cleanByRepeats(take, pinned, undefined, quick);
  const written = new Set(page.positions.map(p => p.strike));
  const graces = new Map(
    [...leadingIn(take, struck, pinned)].filter(([, soft]) => !soft.some(s => written.has(s))),
  );
  return graces.size === 0 ? struck : cleanByRepeats(take, pinned, graces, quick);
};

const readAgain = (take: Take, struck: CleanTake, hints: Hints, page: SeenPage): Read => {
  if (struck.events.length === 0) return { clean: struck, candidates: [] };
  const heard = beatWasHeard(take, hints);
  const cell = latticeOf(page.metre).cells[0]?.length ?? TICKS / 4;
  const gathered = byPage(take, struck, hints, page, cell, !heard);
  return { clean: gathered.clean, candidates: readPageAgain(hints, page, gathered, heard) };
};
