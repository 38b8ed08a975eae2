import type { FastRun } from './fastRuns.ts';
import type { Take } from './take.ts';

/** Strikes within this time of the first of them were meant together (two mallets, one chord). */
export const CHORD_WINDOW = 0.03;
/** Seconds within which two pitches are one chord, by the pitches. */
export type ChordWindow = (first: number, second: number) => number;
const USUAL_WINDOW: ChordWindow = () => CHORD_WINDOW;
/** The same bar sounding again within this time is the mallet bouncing, however hard. */
export const BOUNCE_WINDOW = 0.03;
/** ... and within this time when it is much softer. */
export const SOFT_BOUNCE_WINDOW = 0.06;
export const SOFT_BOUNCE_SHARE = 0.4;

/** A soft blow so long before a louder one on the same bar is a flam: a grace note to it. */
export const FLAM_SHORTEST = 0.015;
export const FLAM_LONGEST = 0.06;
/** The soft blow has at most this share of the louder one's velocity. */
export const FLAM_SHARE = 0.8;

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
  /** Strikes that are grace notes, each under the strike it ornaments. They are in no event. */
  readonly graces: ReadonlyMap<number, number>;
  /** The strokes of each rolled note, itself first, under that strike. Only the first ones are in events. */
  readonly rolls: ReadonlyMap<number, readonly number[]>;
}

const NO_ROLLS: readonly FastRun[] = [];

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
 * Drops bounces, sets grace notes aside and gathers chords: strikes within `chordWindow` of the first of them, usually 30 ms.
 * Which is which, of two blows on one bar: the first much softer or softer is a flam (15 to 60 ms), the
 * second much softer a bounce (under 60 ms), two of like force a bounce under 30 ms, else two notes.
 * Pinned strikes are never dropped and are no grace notes: pass them in `keep`.
 * @param leading strikes to set aside as grace notes, each under the strike it leans on (`leadingNotes`)
 * @param runs strokes that are one note rolled (`fastRuns`); one of two bars begins where its first stroke fell
 */
export const cleanTake = (
  take: Take,
  chordWindow: ChordWindow = USUAL_WINDOW,
  keep: ReadonlySet<number> = new Set(),
  leading: ReadonlyMap<number, number> = new Map(),
  runs: readonly FastRun[] = NO_ROLLS,
): CleanTake => {
  const rolls = strokesByBar(take, runs);
  const rolledOn = new Set(runs.flatMap(run => run.slice(1)));
  /** The first stroke of the other bar of a roll, under the roll's first stroke. */
  const others = new Map(
    runs.flatMap(([one, ...rest]) => rest.filter(i => rolls.has(i)).map(i => [one ?? i, i])),
  );
  const order = take.strikes
    .map((_, i) => i)
    .sort((a, b) => (take.strikes[a]?.at ?? 0) - (take.strikes[b]?.at ?? 0) || a - b);
  const lastOn = new Map<number, { at: number; velocity: number; index: number }>();
  const dropped: number[] = [];
  const graces = new Map<number, number>(leading);
  const aside = new Set(leading.values());
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
    const soft = before !== undefined && s.velocity < SOFT_BOUNCE_SHARE * before.velocity;
    const flam =
      before !== undefined &&
      gap >= FLAM_SHORTEST &&
      gap <= FLAM_LONGEST &&
      before.velocity <= FLAM_SHARE * s.velocity;
    if (flam && !keep.has(before.index) && !graces.has(before.index) && !rolledOn.has(before.index)) {
      graces.set(i, before.index);
      kept.splice(kept.lastIndexOf(before.index), 1);
    } else if (
      !flam &&
      !keep.has(i) &&
      !rolls.has(i) &&
      (gap < BOUNCE_WINDOW || (gap < SOFT_BOUNCE_WINDOW && soft))
    ) {
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
  return { events, dropped, graces, rolls };
};

/**
 * Strikes that may be leading notes, each under the strike it leans on. Whether they are is for whoever
 * reads the rhythm: quick notes look the same.
 * @param clean the take cleaned without them
 * @example leadingNotes({ id: '', capturedAt: '', source: 'file', from: '', latency: 0, lengthsMean: false, strikes: [] }, { events: [], dropped: [], graces: new Map(), rolls: new Map() }).size // => 0
 */
export const leadingNotes = (take: Take, clean: CleanTake): ReadonlyMap<number, number> => {
  const found = new Map<number, number>();
  const { events } = clean;
  events.forEach((soft, i) => {
    const loud = events[i + 1];
    if (loud === undefined || soft.strikes.length > 1 || loud.strikes.length > 1) return;
    const [from] = soft.strikes;
    const [to] = loud.strikes;
    if (from === undefined || to === undefined || clean.graces.has(from) || clean.graces.has(to)) return;
    if (clean.rolls.has(from)) return;
    const gap = loud.at - soft.at;
    const before = soft.at - (events[i - 1]?.at ?? -Infinity);
    const after = (events[i + 2]?.at ?? Infinity) - loud.at;
    const steps = Math.abs((take.strikes[from]?.pitch ?? 0) - (take.strikes[to]?.pitch ?? 0));
    const leans =
      gap >= LEADING_SHORTEST &&
      gap <= LEADING_LONGEST &&
      steps <= LEADING_STEPS &&
      before > LEADING_AFTER * gap &&
      after > LEADING_BEFORE * gap &&
      soft.velocity <= FLAM_SHARE * loud.velocity;
    if (leans) found.set(to, from);
  });
  return found;
};
