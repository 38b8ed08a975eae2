import { BOUNCE_WINDOW, isBounce } from './bounce.ts';
import type { FastRun } from './fastRuns.ts';
import type { DrawnLine } from './glissandi.ts';
import { NO_QUICK_STROKES, type QuickStrokes } from './quickStrokes.ts';
import type { Take } from './take.ts';

/** Strikes within this time of the first of them were meant together (two mallets, one chord). */
export const CHORD_WINDOW = 0.03;
/** Seconds within which two pitches are one chord, by the pitches. */
export type ChordWindow = (first: number, second: number) => number;
const USUAL_WINDOW: ChordWindow = () => CHORD_WINDOW;

/** A soft blow so long before a louder one on the same bar is a flam: a grace note to it. */
export const FLAM_SHORTEST = 0.015;
export const FLAM_LONGEST = 0.06;
/** The soft blow has at most this share of the louder one's velocity. */
export const FLAM_SHARE = 0.8;

/** Soft strokes before a loud one: two are a drag, three a ruff (common practice, no source), and so long apart at most. */
export const DRAG_STROKES = 3;
export const DRAG_LONGEST = 0.07;

/**
 * A soft blow on another bar so long before a louder one may lean on it (an acciaccatura): at most a tone
 * away, well after what came before and longer still before what comes next. From development cases.
 */
export const LEADING_SHORTEST = 0.03;
export const LEADING_LONGEST = 0.085;
export const LEADING_STEPS = 2;
export const LEADING_AFTER = 1.2;
export const LEADING_BEFORE = 1.6;

/** What the reader reads: one moment at which one or more bars were struck. */
export interface StruckEvent {
  /** Mean time of its strikes, latency taken off, in seconds. */
  readonly at: number;
  /** Indices into the take's strikes, lowest pitch first. */
  readonly strikes: readonly number[];
  /** Loudest velocity, 1 to 127. */
  readonly velocity: number;
  /** When the last of them was let go, if known. */
  readonly until?: number;
}

export interface CleanTake {
  readonly events: readonly StruckEvent[];
  /** Strikes taken for bounces. */
  readonly dropped: readonly number[];
  /** Strikes that are grace notes, in order of time, under the strike they ornament. They are in no event. */
  readonly graces: ReadonlyMap<number, readonly number[]>;
  /** The strokes of each rolled note, itself first, under that strike. Only the first ones are in events. */
  readonly rolls: ReadonlyMap<number, readonly number[]>;
  /** Lines drawn over neighbouring bars, under their first strike. Only that one is in events, and the target. */
  readonly lines: ReadonlyMap<number, DrawnLine>;
}

/** The strokes of rolls by bar: of two bars struck in turn each has its own. Under the first stroke of each. */
const strokesByBar = (take: Take, runs: readonly FastRun[]): Map<number, readonly number[]> => {
  const rolls = new Map<number, readonly number[]>();
  for (const run of runs)
    for (const pitch of new Set(run.map(i => take.strikes[i]?.pitch))) {
      const own = run.filter(i => take.strikes[i]?.pitch === pitch);
      if (own[0] !== undefined) rolls.set(own[0], own);
    }
  return rolls;
};

/**
 * A soft stroke before a louder one, with those before it that make it a drag or a ruff: as soft, on the same bar,
 * one soon after the other.
 * @param kept what was struck so far and is a note, in order of time
 */
const dragBefore = (
  take: Take,
  last: number,
  velocity: number,
  kept: readonly number[],
  keep: ReadonlySet<number>,
  graces: ReadonlyMap<number, readonly number[]>,
): readonly number[] => {
  const pitch = take.strikes[last]?.pitch;
  const strokes = [...(graces.get(last) ?? []), last];
  const lately = kept.slice(-2 * DRAG_STROKES).filter(i => take.strikes[i]?.pitch === pitch && i !== last);
  for (const i of lately.reverse()) {
    const one = take.strikes[i];
    const gap = (take.strikes[strokes[0] ?? last]?.at ?? 0) - (one?.at ?? 0);
    if (one === undefined || strokes.length >= DRAG_STROKES || keep.has(i) || graces.has(i)) break;
    if (gap < FLAM_SHORTEST || gap > DRAG_LONGEST || one.velocity > FLAM_SHARE * velocity) break;
    strokes.unshift(i);
  }
  return strokes;
};

/**
 * Drops bounces, sets grace notes aside and gathers chords: strikes within `chordWindow` of the first of them, usually 30 ms.
 * Which is which, of two blows on one bar: the first much softer or softer is a flam (15 to 60 ms), the
 * second much softer a bounce (under 60 ms), two of like force a bounce under 30 ms, else two notes.
 * Pinned strikes are never dropped and are no grace notes: pass them in `keep`.
 * @param leading strikes to set aside as grace notes, each under the strike it leans on (`leadingNotes`)
 * @param quick strokes that are one note rolled, or drawn over bars; a roll of two bars begins where its first stroke fell
 */
export const cleanTake = (
  take: Take,
  chordWindow: ChordWindow = USUAL_WINDOW,
  keep: ReadonlySet<number> = new Set(),
  leading: ReadonlyMap<number, readonly number[]> = new Map(),
  quick: QuickStrokes = NO_QUICK_STROKES,
): CleanTake => {
  const runs = quick.rolls;
  const rolls = strokesByBar(take, runs);
  const lines = new Map(quick.lines.flatMap(line => line.strokes.slice(0, 1).map(i => [i, line])));
  const rolledOn = new Set([...runs, ...quick.lines.map(line => line.strokes)].flatMap(run => run.slice(1)));
  /** What begins a roll or a line: it is neither a bounce nor a grace note. */
  const signed = new Set([...rolls.keys(), ...lines.keys()]);
  const notesForSure = lines.size === 0 ? keep : new Set([...keep, ...lines.keys()]);
  /** The first stroke of the other bar of a roll, under the roll's first stroke. */
  const others = new Map(
    runs.flatMap(([one, ...rest]) => rest.filter(i => rolls.has(i)).map(i => [one ?? i, i])),
  );
  const order = take.strikes
    .map((_, i) => i)
    .sort((a, b) => (take.strikes[a]?.at ?? 0) - (take.strikes[b]?.at ?? 0) || a - b);
  const lastOn = new Map<number, { at: number; velocity: number; index: number }>();
  const dropped: number[] = [];
  const graces = new Map<number, readonly number[]>(leading);
  const aside = new Set([...leading.values()].flat());
  const kept: number[] = [];
  for (const i of order) {
    const s = take.strikes[i];
    if (s === undefined || !Number.isFinite(s.at) || aside.has(i)) continue;
    if (rolledOn.has(i)) {
      lastOn.set(s.pitch, { at: s.at, velocity: s.velocity, index: i });
      continue;
    }
    const before = lastOn.get(s.pitch);
    const gap = before === undefined ? Infinity : s.at - before.at;
    const isInRoll = before !== undefined && (rolledOn.has(before.index) || signed.has(before.index));
    const flam =
      before !== undefined &&
      gap >= (isInRoll ? BOUNCE_WINDOW : FLAM_SHORTEST) &&
      gap <= FLAM_LONGEST &&
      before.velocity <= FLAM_SHARE * s.velocity;
    const isFull = (graces.get(before?.index ?? -1)?.length ?? 0) >= DRAG_STROKES;
    if (flam && !isFull && !keep.has(before.index) && !aside.has(before.index) && !isInRoll) {
      const soft = dragBefore(take, before.index, s.velocity, kept, notesForSure, graces);
      graces.delete(before.index);
      graces.set(i, soft);
      // They lie among the last that were kept, or were set aside before as grace notes of one another.
      let from = kept.length;
      while (from > 0 && (take.strikes[kept[from - 1] ?? i]?.at ?? 0) > s.at - DRAG_STROKES * DRAG_LONGEST)
        from--;
      kept.push(...kept.splice(from).filter(k => !soft.includes(k)));
    } else if (!flam && !keep.has(i) && !signed.has(i) && isBounce(gap, s.velocity, before?.velocity)) {
      dropped.push(i);
      continue;
    }
    lastOn.set(s.pitch, { at: s.at, velocity: s.velocity, index: i });
    kept.push(i);
  }
  const events: StruckEvent[] = [];
  let group: number[] = [];
  const close = (): void => {
    if (group.length === 0) return;
    const strikes = group
      .flatMap(i => [i, ...(others.has(i) ? [others.get(i) ?? i] : [])])
      .sort((a, b) => (take.strikes[a]?.pitch ?? 0) - (take.strikes[b]?.pitch ?? 0) || a - b);
    const all = group.flatMap(i => take.strikes[i] ?? []);
    const untils = all.flatMap(s => s.until ?? []);
    events.push({
      at: all.reduce((t, s) => t + s.at, 0) / all.length - take.latency / 1000,
      strikes,
      velocity: Math.max(...all.map(s => s.velocity)),
      ...(untils.length === 0 ? {} : { until: Math.max(...untils) - take.latency / 1000 }),
    });
    group = [];
  };
  for (const i of kept) {
    const s = take.strikes[i];
    const first = take.strikes[group[0] ?? -1];
    if (s === undefined) continue;
    const together =
      first !== undefined &&
      s.at - first.at < chordWindow(first.pitch, s.pitch) &&
      !group.some(j => take.strikes[j]?.pitch === s.pitch);
    if (!together) close();
    group.push(i);
  }
  close();
  return { events, dropped, graces, rolls, lines };
};

/** Whether a strike begins what is written with a sign. */
const isQuick = ({ rolls, lines }: CleanTake, strike: number): boolean =>
  rolls.has(strike) || lines.has(strike);

/**
 * Strikes that may be leading notes, up to three one after the other, under the strike they lean on. Whether they are is for whoever
 * reads the rhythm: quick notes look the same.
 * @param clean the take cleaned without them
 * @example leadingNotes({ id: '', capturedAt: '', source: 'file', from: '', latency: 0, lengthsMean: false, strikes: [] }, { events: [], dropped: [], graces: new Map(), rolls: new Map(), lines: new Map() }).size // => 0
 */
export const leadingNotes = (take: Take, clean: CleanTake): ReadonlyMap<number, readonly number[]> => {
  const found = new Map<number, readonly number[]>();
  const { events } = clean;
  const only = (i: number): number | undefined => {
    const strikes = events[i]?.strikes ?? [];
    const [strike] = strikes;
    const isPlain = strike !== undefined && !clean.graces.has(strike);
    return strikes.length === 1 && isPlain ? strike : undefined;
  };
  const gapAfter = (i: number): number => (events[i + 1]?.at ?? Infinity) - (events[i]?.at ?? -Infinity);
  events.forEach((loud, to) => {
    const main = only(to);
    if (main === undefined) return;
    /** Whether what is struck there leads on to what is struck next. */
    const leads = (i: number): boolean => {
      const [from, next] = [only(i), only(i + 1)];
      if (from === undefined || next === undefined || isQuick(clean, from)) return false;
      const gap = gapAfter(i);
      const steps = Math.abs((take.strikes[from]?.pitch ?? 0) - (take.strikes[next]?.pitch ?? 0));
      const isSoon = gap >= LEADING_SHORTEST && gap <= LEADING_LONGEST;
      return isSoon && steps <= LEADING_STEPS && (events[i]?.velocity ?? 0) <= FLAM_SHARE * loud.velocity;
    };
    let from = to;
    while (to - from < DRAG_STROKES && leads(from - 1)) from--;
    if (from === to || gapAfter(from - 1) <= LEADING_AFTER * gapAfter(from)) return;
    if (gapAfter(to) <= LEADING_BEFORE * gapAfter(to - 1)) return;
    found.set(
      main,
      events.slice(from, to).flatMap(e => e.strikes),
    );
  });
  return found;
};
