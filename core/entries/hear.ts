import type { Ticks } from '../foundation/units.ts';
import {
  consonance,
  intervalClass,
  type IntervalKind,
  isDissonant,
  isPerfect,
  kindOf,
} from './consonance.ts';

/** A note as it sounds, in ticks, at a MIDI pitch. */
export interface Sounding {
  readonly from: Ticks;
  readonly to: Ticks;
  readonly pitch: number;
}

/** How a line sounds against others. */
export interface Heard {
  /** -1 (rough) to 1 (thirds and sixths throughout); 0 where nothing sounds together. */
  readonly score: number;
  /** Share of the line's time in which it sounds with something else, 0 to 1. */
  readonly together: number;
  /** Share of the time together in which it doubles another at the unison or octave, 0 to 1. */
  readonly doubling: number;
  /** Places of dissonances that are neither passing notes nor suspensions, on beats. */
  readonly clashes: readonly Ticks[];
  /** How long each family of intervals lasts, weighted by where in the bar. */
  readonly kinds: ReadonlyMap<IntervalKind, number>;
}

/**
 * Worth of an interval between two parts, by class 0 to 6. Imperfect consonances stand before perfect ones, as
 * in species counterpoint (Fux, Gradus ad Parnassum, 1725) and because perfect ones fuse (Huron 1991, Music
 * Perception 9(2)); a unison or octave is doubling, neither good nor bad. Dissonances are in the proportions of
 * Huron 1994. The other figures are our choice.
 */
const CONSONANT: readonly number[] = [0, 0, 0, 1, 0.95, 0.5, 0];
/** Huron's roughest dyad, the semitone, counts as -1. */
const ROUGHEST = 1.428;
const worth = (a: number, b: number): number =>
  isDissonant(a, b) ? consonance(a, b) / ROUGHEST : (CONSONANT[intervalClass(a, b)] ?? 0);
/** A fourth over the lowest note is no rest. */
const FOURTH_OVER_BASS = -0.2;
/** What a clash, or a pair of parallel fifths or octaves, takes from the beat it is in (our choice). */
const CLASH = 0.3;
const PARALLEL = 0.3;

/** A line, in order, with what comes straight before and after a note of it. */
const before = (line: readonly Sounding[], i: number): Sounding | undefined => {
  const [one, note] = [line[i - 1], line[i]];
  return one !== undefined && one.to === note?.from ? one : undefined;
};
const after = (line: readonly Sounding[], i: number): Sounding | undefined => {
  const [one, note] = [line[i + 1], line[i]];
  return one !== undefined && one.from === note?.to ? one : undefined;
};

const isStep = (by: number): boolean => Math.abs(by) === 1 || Math.abs(by) === 2;

/** Between two notes a step either side, going one way, on a weaker place than the first: Fux's second species. */
const isPassing = (line: readonly Sounding[], i: number, weightOf: (at: Ticks) => number): boolean => {
  const [from, note, to] = [before(line, i), line[i], after(line, i)];
  if (from === undefined || note === undefined || to === undefined) return false;
  const [into, on] = [note.pitch - from.pitch, to.pitch - note.pitch];
  const weaker = weightOf(note.from) < weightOf(from.from) || weightOf(note.from) === 1;
  return isStep(into) && isStep(on) && into > 0 === on > 0 && weaker;
};

/** Held over from a consonance while the other moves, and falling a step: Fux's fourth species. */
const isSuspended = (
  held: readonly Sounding[],
  i: number,
  moving: readonly Sounding[],
  k: number,
): boolean => {
  const [note, next, earlier, struck] = [held[i], after(held, i), before(moving, k), moving[k]];
  if (note === undefined || next === undefined || earlier === undefined || struck === undefined) return false;
  const prepared = note.from < struck.from && note.from < earlier.to;
  const falls = next.pitch < note.pitch && isStep(next.pitch - note.pitch);
  return prepared && falls && !isDissonant(note.pitch, earlier.pitch);
};

/**
 * How one line sounds against others, each of them one part in order of time. Everything is a mean over the time
 * together, so that a long idea is heard as a short one is.
 * @param weightOf how strong a place is: 4 the barline to 1 between beats
 * @param beat length of a beat, in ticks
 * @example
 * const line = [{ from: 0, to: 4, pitch: 76 }];
 * hear(line, [[{ from: 0, to: 4, pitch: 72 }]], () => 4, 4).score // => 0.95
 */
export const hear = (
  line: readonly Sounding[],
  others: readonly (readonly Sounding[])[],
  weightOf: (at: Ticks) => number,
  beat: Ticks,
): Heard => {
  const kinds = new Map<IntervalKind, number>();
  const clashes = new Set<Ticks>();
  const all = others.flat();
  let [sum, weights, doubled, covered, length, parallels] = [0, 0, 0, 0, 0, 0];
  line.forEach((note, i) => {
    length += note.to - note.from;
    const lowest = all
      .filter(o => o.from < note.to && note.from < o.to)
      .reduce((low, o) => Math.min(low, o.pitch), note.pitch);
    let until = note.from;
    for (const part of others) {
      part.forEach((other, k) => {
        const from = Math.max(note.from, other.from);
        const to = Math.min(note.to, other.to);
        if (to <= from) return;
        const weight = (to - from) * weightOf(from);
        weights += weight;
        covered += Math.max(0, to - Math.max(from, until));
        until = Math.max(until, to);
        const kind = kindOf(note.pitch, other.pitch);
        kinds.set(kind, (kinds.get(kind) ?? 0) + weight);
        if (intervalClass(note.pitch, other.pitch) === 0) doubled += weight;
        const low = Math.min(note.pitch, other.pitch);
        const fourth = Math.abs(note.pitch - other.pitch) % 12 === 5 && low === lowest;
        if (isDissonant(note.pitch, other.pitch)) {
          const known =
            (note.from === from && isPassing(line, i, weightOf)) ||
            (other.from === from && isPassing(part, k, weightOf)) ||
            isSuspended(line, i, part, k) ||
            isSuspended(part, k, line, i);
          // What a passing note or a suspension rubs is meant: neither good nor bad.
          if (known) return;
          if (weightOf(from) >= 2) clashes.add(from);
        }
        sum += weight * (fourth ? FOURTH_OVER_BASS : worth(note.pitch, other.pitch));
        if (isParallel(line, i, part, k)) parallels += 1;
      });
    }
  });
  if (weights === 0) return { score: 0, together: 0, doubling: 0, clashes: [], kinds };
  const beats = Math.max(1, covered / beat);
  const rough = (CLASH * clashes.size + PARALLEL * parallels) / beats;
  const raw = sum / weights - rough;
  return {
    score: Math.max(-1, Math.min(1, raw < 0 ? raw / (1 + CLASH + PARALLEL) : raw)),
    together: length === 0 ? 0 : covered / length,
    doubling: doubled / weights,
    clashes: [...clashes].sort((a, b) => a - b),
    kinds,
  };
};

/**
 * Parallel fifths or octaves: both parts move the same way from one perfect interval to its like. Where octave
 * follows octave before and after, one part doubles the other, which is no mistake.
 */
const isParallel = (line: readonly Sounding[], i: number, part: readonly Sounding[], k: number): boolean => {
  const pair = (step: number): readonly [number, number] | undefined => {
    const [own, other] = [line[i + step], part[k + step]];
    return own === undefined || other?.from !== own.from ? undefined : [own.pitch, other.pitch];
  };
  const [now, last] = [pair(0), pair(-1)];
  if (now === undefined || last === undefined) return false;
  const alike = (both: readonly [number, number] | undefined): boolean =>
    both !== undefined && intervalClass(...both) === intervalClass(...now) && isPerfect(...both);
  const sameWay = (now[0] - last[0]) * (now[1] - last[1]) > 0;
  if (!sameWay || !isPerfect(...now) || !alike(last)) return false;
  return intervalClass(...now) !== 0 || !(alike(pair(1)) || alike(pair(-2)));
};
