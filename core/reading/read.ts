import { toNumber, ZERO } from '../foundation/fraction.ts';
import { type Metre, metre, tactus } from '../foundation/metre.ts';
import { cleanTake, type CleanTake } from '../take/clean.ts';
import type { Take } from '../take/take.ts';
import { type Found, placeOnBeat, residuals, stageFor } from './clickReader.ts';
import { swingsOf } from './swings.ts';
import { type Lattice, latticeOf, TICKS, toFraction, toTicks } from './lattice.ts';
import { lengthsOf } from './lengths.ts';
import { type Evidence, NO_PIN, type Stage } from './layout.ts';
import { PARAMETERS } from './parameters.ts';
import type { Hints, Reading, ReadNote } from './reading.ts';
import { readRepeats } from './jointReader.ts';
import { findBeats, refitted } from './freeReader.ts';
import { findRepeats } from './repeats.ts';
import { secondsAt, ticksAt, type TimeMap } from './timeMap.ts';
import { vocabulariesOf } from './vocabularies.ts';

/** At most this many readings are offered. */
export const MOST_READINGS = 5;
const DEEP = 10;

interface Beat {
  /** Whether the beat was found, not given. */
  readonly open?: boolean;
  readonly lattice: Lattice;
  readonly map: TimeMap;
}

/** Each event seen once. */
const single = (at: Float64Array, pin: Int32Array): Evidence => ({
  events: at.length,
  from: Int32Array.from({ length: at.length + 1 }, (_, i) => i),
  at,
  shift: new Int32Array(at.length),
  pin,
});

const evidenceOf = (clean: CleanTake, hints: Hints): Evidence => {
  const pin = new Int32Array(clean.events.length).fill(NO_PIN);
  const place = new Map((hints.pins ?? []).map(p => [p.strike, toTicks(p.onset)]));
  clean.events.forEach((e, i) => {
    for (const s of e.strikes) pin[i] = place.get(s) ?? pin[i] ?? NO_PIN;
  });
  return single(
    Float64Array.from(clean.events, e => e.at),
    pin,
  );
};

const notesOf = (
  take: Take,
  clean: CleanTake,
  found: Found,
  lengths: readonly number[],
  doubt: readonly number[],
): ReadNote[] =>
  clean.events.flatMap((event, i) =>
    event.strikes.map(strike => ({
      onset: toFraction(found.ticks[i] ?? 0),
      duration: toFraction(lengths[i] ?? TICKS / 4),
      pitch: take.strikes[strike]?.pitch ?? 60,
      strike,
      doubt: doubt[i] ?? 0,
    })),
  );

/** Chance of each candidate, from costs. */
const chancesOf = (costs: readonly number[]): number[] => {
  const least = Math.min(...costs);
  const raw = costs.map(c => Math.exp(-(c - least) / PARAMETERS.temper));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map(r => r / sum);
};

const reasonOf = (found: Found, m: Metre): string => {
  const swing =
    found.swing.ratio === 1 ? '' : found.swing.of === 'half' ? 'swung quavers, ' : 'swung semiquavers, ';
  return `${swing}${found.vocabulary.name}, in ${String(m.beats)}/${String(m.unit)}`;
};

interface OnBeat {
  readonly found: readonly Found[];
  readonly stage: Stage;
  readonly evidence: Evidence;
  readonly period?: number;
}

/** Reads on a known beat, alone and, when the idea comes again, all repeats together; best first. */
const readOnBeat = (take: Take, clean: CleanTake, hints: Hints, beat: Beat): OnBeat => {
  const evidence = evidenceOf(clean, hints);
  const n = evidence.events;
  const { lattice, map } = beat;
  const stage = stageFor(lattice, map, evidence.at[0] ?? 0, evidence.at[n - 1] ?? 0);
  const vocabularies = vocabulariesOf(hints.grid ?? 'automatic', beat.open ?? false);
  const swings = swingsOf(hints.swingTolerance ?? 'medium');
  const alone = placeOnBeat(stage, evidence, vocabularies, swings, DEEP);
  const places = evidence.at.map(t => ticksAt(map, t));
  const beatTicks = lattice.cells[0]?.length ?? TICKS / 4;
  const repeats = findRepeats(take, clean.events, places, lattice.bar, beatTicks);
  if (repeats === undefined) return { found: alone, stage, evidence };
  const task = {
    stage,
    evidence,
    vocabularies,
    swings,
    bar: lattice.bar,
    cellsInBar: lattice.cells.length,
    deep: DEEP,
  };
  const joint = readRepeats(task, repeats, places);
  const [a] = alone;
  const [b] = joint?.found ?? [];
  if (joint === undefined || b === undefined || (a !== undefined && a.cost < b.cost))
    return { found: alone, stage, evidence };
  const seen = new Set(joint.found.map(f => f.ticks.join()));
  const rest = alone.filter(f => !seen.has(f.ticks.join()));
  return {
    found: [...joint.found, ...rest].sort((x, y) => x.cost - y.cost),
    stage,
    evidence,
    period: repeats.bars,
  };
};

interface Candidate {
  readonly found: Found;
  readonly cost: number;
  readonly beat: Beat;
  readonly stage: Stage;
  readonly evidence: Evidence;
  readonly period?: number;
}

const candidatesOn = (
  take: Take,
  clean: CleanTake,
  hints: Hints,
  beat: Beat,
  beatCost: number,
): Candidate[] => {
  const { found, stage, evidence, period } = readOnBeat(take, clean, hints, beat);
  return found.map(f => ({
    found: f,
    cost: f.cost + beatCost,
    beat,
    stage,
    evidence,
    ...(period === undefined ? {} : { period }),
  }));
};

/** Beats looked at closely when there is no click: of the whole take, and of the average of its repeats. */
const CLOSELY = 4;

const readFree = (take: Take, clean: CleanTake, hints: Hints): Candidate[] => {
  const pin = evidenceOf(clean, hints).pin;
  const at = Float64Array.from(clean.events, e => e.at);
  const all = findBeats(take, clean, pin, hints, CLOSELY).flatMap(beat => {
    const [first] = readOnBeat(take, clean, hints, { ...beat, open: true }).found;
    if (first === undefined) return [];
    const better = refitted(beat, first, at);
    return candidatesOn(take, clean, hints, { ...better, open: true }, better.cost);
  });
  const best = new Map<string, Candidate>();
  for (const c of all) {
    const key = `${c.beat.lattice.metre.beats}/${c.beat.lattice.metre.unit}:${c.found.ticks.join()}`;
    const known = best.get(key);
    if (known === undefined || c.cost < known.cost) best.set(key, c);
  }
  return [...best.values()].sort((a, b) => a.cost - b.cost);
};

const readClick = (take: Take, clean: CleanTake, hints: Hints): Candidate[] | undefined => {
  const click = hints.free === true ? undefined : take.click;
  const beats = hints.taps !== undefined && hints.taps.length >= 2 ? hints.taps : click?.beats;
  if (beats === undefined) return undefined;
  const m = hints.metre ?? click?.metre ?? metre(4, 4);
  const map: TimeMap = {
    beats: Float64Array.from(beats),
    step: Math.round(toNumber(tactus(m)) * TICKS),
    zero: 0,
  };
  return candidatesOn(take, clean, hints, { lattice: latticeOf(m), map }, 0);
};

/**
 * Up to five ways of writing a take, best first; none when nothing was struck.
 * With a click (or taps) places are counted from the click's first beat; without one from the
 * barline the reader infers.
 */
export const readTake = (take: Take, hints: Hints = {}): Reading[] => {
  const clean = cleanTake(take, undefined, new Set((hints.pins ?? []).map(p => p.strike)));
  if (clean.events.length === 0) return [];
  const candidates = readClick(take, clean, hints) ?? readFree(take, clean, hints);
  const chances = chancesOf(candidates.map(c => c.cost));
  return candidates
    .slice(0, MOST_READINGS)
    .map((c, rank) => readingOf(take, clean, hints, c, rank, candidates, chances));
};

const readingOf = (
  take: Take,
  clean: CleanTake,
  hints: Hints,
  c: Candidate,
  rank: number,
  all: readonly Candidate[],
  chances: readonly number[],
): Reading => {
  const { found, beat, stage, evidence } = c;
  const m = beat.lattice.metre;
  const doubt = Array.from(found.ticks, (t, i) => {
    let same = 0;
    all.forEach((other, j) => {
      if (other.found.ticks[i] === t) same += chances[j] ?? 0;
    });
    return Math.max(0, Math.min(1, 1 - same));
  });
  const off = residuals(stage, evidence, found.ticks, found.feel);
  const misfit = 1000 * Math.sqrt(off.reduce((s, e) => s + e * e, 0) / Math.max(1, off.length));
  const lengths = lengthsOf([...found.ticks], beat.lattice, hints.letRing ?? false);
  const first = found.ticks[0] ?? 0;
  const step = toNumber(tactus(m)) * TICKS;
  const { beats, zero } = tactusBeats(beat.map, step, first, found.ticks[found.ticks.length - 1] ?? 0);
  return {
    metre: m,
    tempo: (60 * (beats.length - 1)) / ((beats[beats.length - 1] ?? 1) - (beats[0] ?? 0)),
    upbeat: first < 0 ? toFraction(-first) : ZERO,
    ...(found.swing.ratio === 1
      ? {}
      : {
          swing: {
            ratio: found.swing.ratio,
            unit: toFraction(found.swing.of === 'half' ? TICKS / 8 : TICKS / 16),
          },
        }),
    grid: hints.grid ?? 'automatic',
    notes: notesOf(take, clean, found, lengths, doubt),
    dropped: clean.dropped,
    misfit,
    confidence: chances[rank] ?? 0,
    reason: reasonOf(found, m),
    beats,
    firstBeat: zero,
    ...(c.period === undefined ? {} : { period: c.period }),
  };
};

/** Times of tactus beats that cover a reading, and which of them is the first barline. */
const tactusBeats = (
  map: TimeMap,
  step: number,
  first: number,
  last: number,
): { beats: number[]; zero: number } => {
  const from = Math.min(0, Math.floor(first / step));
  const to = Math.max(from + 2, Math.floor(last / step) + 1);
  return {
    beats: Array.from({ length: to - from + 1 }, (_, k) => secondsAt(map, (from + k) * step)),
    zero: -from,
  };
};
