import { CHORD_WINDOW, type ChordWindow, type CleanTake, cleanTake } from '../../take/clean.ts';
import { NO_QUICK_STROKES, type QuickStrokes } from '../../take/quickStrokes.ts';
import type { Take } from '../../take/take.ts';
import { findLag } from './lag.ts';
import { SOON_AFTER, SURE_CHORD, WIDE_CHORD } from './constants.ts';

/** Share of the events that come again one lag later. */
const repeated = (take: Take, clean: CleanTake): number => {
  const lag = findLag(
    take,
    clean.events,
    Float64Array.from(clean.events, e => e.at),
  );
  return lag === undefined ? 0 : lag.next.filter(j => j >= 0).length / clean.events.length;
};

/** How often two bars were struck one straight after the other, together, and plainly apart. */
interface Pairs {
  together: number;
  apart: number;
}

const nameOf = (a: number, b: number): string => `${String(Math.min(a, b))}:${String(Math.max(a, b))}`;

const pairsIn = (take: Take): ReadonlyMap<string, Pairs> => {
  const pairs = new Map<string, Pairs>();
  const inTime = take.strikes.filter(s => Number.isFinite(s.at)).sort((a, b) => a.at - b.at);
  inTime.forEach((s, i) => {
    const next = inTime[i + 1];
    if (next === undefined || next.pitch === s.pitch) return;
    const gap = next.at - s.at;
    const name = nameOf(s.pitch, next.pitch);
    const seen = pairs.get(name) ?? { together: 0, apart: 0 };
    if (gap < CHORD_WINDOW) seen.together++;
    else if (gap >= WIDE_CHORD && gap < SOON_AFTER) seen.apart++;
    pairs.set(name, seen);
  });
  return pairs;
};

/**
 * The take cleaned, with pitches and repeats as witnesses where it is open whether two close strikes were
 * meant together. Two bars that are struck together elsewhere and never one soon after the other are a
 * chord although the hands differ by up to 60 ms. Two that are struck apart elsewhere may be two notes
 * however close: uneven players run short notes together once, but hardly in every repeat. Where the idea
 * comes again more faithfully with such strikes apart, they are two notes.
 */
export const cleanByRepeats = (
  take: Take,
  keep: ReadonlySet<number>,
  leading: ReadonlyMap<number, readonly number[]> = new Map(),
  quick: QuickStrokes = NO_QUICK_STROKES,
): CleanTake => {
  const pairs = pairsIn(take);
  const usually: ChordWindow = (a, b) => {
    const seen = pairs.get(nameOf(a, b));
    return seen !== undefined && seen.together > 0 && seen.apart === 0 ? WIDE_CHORD : CHORD_WINDOW;
  };
  const strictly: ChordWindow = (a, b) =>
    (pairs.get(nameOf(a, b))?.apart ?? 0) > 0 ? SURE_CHORD : usually(a, b);
  const usual = cleanTake(take, usually, keep, leading, quick);
  const apart = cleanTake(take, strictly, keep, leading, quick);
  if (apart.events.length === usual.events.length) return usual;
  return repeated(take, apart) > repeated(take, usual) ? apart : usual;
};
