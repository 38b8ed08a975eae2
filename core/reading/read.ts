import { toNumber, ZERO } from '../foundation/fraction.ts';
import { type Metre, metre, tactus } from '../foundation/metre.ts';
import { cleanTake, type CleanTake } from '../take/clean.ts';
import type { Take } from '../take/take.ts';
import { type Found, placeOnBeat, residuals, stageFor } from './clickReader.ts';
import { STRAIGHT, swingsOf } from './swings.ts';
import { type Lattice, latticeOf, TICKS, toFraction, toTicks } from './lattice.ts';
import { lengthsOf } from './lengths.ts';
import { type Evidence, NO_PIN, type Stage } from './layout.ts';
import { PARAMETERS } from './parameters.ts';
import type { Hints, Reading, ReadNote } from './reading.ts';
import { readRepeats } from './jointReader.ts';
import { findRepeats } from './repeats.ts';
import { secondsAt, ticksAt, type TimeMap } from './timeMap.ts';
import { vocabulariesOf } from './vocabularies.ts';

/** At most this many readings are offered. */
export const MOST_READINGS = 5;
const DEEP = 10;

interface Beat {
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
  const vocabularies = vocabulariesOf(hints.grid ?? 'automatic');
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

/**
 * Up to five ways of writing a take, best first; none when nothing was struck.
 * With a click (or taps) places are counted from the click's first beat; without one from the
 * barline the reader infers.
 */
export const readTake = (take: Take, hints: Hints = {}): Reading[] => {
  const clean = cleanTake(take, undefined, new Set((hints.pins ?? []).map(p => p.strike)));
  if (clean.events.length === 0) return [];
  const click = hints.free === true ? undefined : take.click;
  const beats = hints.taps !== undefined && hints.taps.length >= 2 ? hints.taps : click?.beats;
  const m = hints.metre ?? click?.metre ?? metre(4, 4);
  const lattice = latticeOf(m);
  const step = Math.round(toNumber(tactus(m)) * TICKS);
  const map: TimeMap =
    beats === undefined ? guessBeat(clean, lattice, step) : { beats: Float64Array.from(beats), step };
  const { found, stage, evidence, period: bars } = readOnBeat(take, clean, hints, { lattice, map });
  const chances = chancesOf(found.map(f => f.cost));
  const beatTimes = map.beats;
  const period =
    ((beatTimes[beatTimes.length - 1] ?? 0) - (beatTimes[0] ?? 0)) / Math.max(1, beatTimes.length - 1);
  return found.slice(0, MOST_READINGS).map((f, rank) => {
    const doubt = Array.from(f.ticks, (t, i) => {
      let same = 0;
      found.forEach((g, j) => {
        if (g.ticks[i] === t) same += chances[j] ?? 0;
      });
      return Math.max(0, Math.min(1, 1 - same));
    });
    const off = residuals(stage, evidence, f.ticks, f.feel);
    const misfit = 1000 * Math.sqrt(off.reduce((s, e) => s + e * e, 0) / Math.max(1, off.length));
    const lengths = lengthsOf([...f.ticks], lattice, hints.letRing ?? false);
    const first = f.ticks[0] ?? 0;
    return {
      metre: m,
      tempo: 60 / period,
      upbeat: first < 0 ? toFraction(-first) : ZERO,
      ...(f.swing.ratio === 1
        ? {}
        : {
            swing: { ratio: f.swing.ratio, unit: toFraction(f.swing.of === 'half' ? TICKS / 8 : TICKS / 16) },
          }),
      grid: hints.grid ?? 'automatic',
      notes: notesOf(take, clean, f, lengths, doubt),
      dropped: clean.dropped,
      misfit,
      confidence: chances[rank] ?? 0,
      reason: reasonOf(f, m),
      beats: [...beatTimes],
      firstBeat: 0,
      ...(bars === undefined ? {} : { period: bars }),
    };
  });
};

/** A first, even beat for a take without one: the period and phase that place its strikes most cheaply. */
const guessBeat = (clean: CleanTake, lattice: Lattice, step: number): TimeMap => {
  const at = Float64Array.from(clean.events, e => e.at);
  const n = at.length;
  const first = at[0] ?? 0;
  const last = at[n - 1] ?? 0;
  const evidence = single(at, new Int32Array(n).fill(NO_PIN));
  const vocabularies = vocabulariesOf('quarter');
  const evenMap = (from: number, period: number): TimeMap => {
    const count = Math.max(2, Math.ceil((last - from) / period) + 2);
    return { beats: Float64Array.from({ length: count }, (_, i) => from + i * period), step };
  };
  let best = { cost: Infinity, map: evenMap(first, 0.6) };
  for (let i = 0; i < 28; i++) {
    const period = 0.32 * 2 ** (i / 14);
    for (const lead of [0, 0.5]) {
      let map = evenMap(first - lead * period, period);
      for (let round = 0; round < 3; round++) {
        const stage = stageFor(lattice, map, first, last);
        const [found] = placeOnBeat(stage, evidence, vocabularies, [STRAIGHT], 1);
        if (found === undefined) break;
        const p = (map.beats[1] ?? 1) - (map.beats[0] ?? 0);
        const prior = 0.5 * (Math.log2(60 / p / 100) / 0.35) ** 2;
        const cost = found.cost + prior;
        if (cost < best.cost) best = { cost, map };
        map = refit(map, found.ticks, at, evenMap);
      }
    }
  }
  return best.map;
};

const refit = (
  map: TimeMap,
  ticks: Int32Array,
  at: Float64Array,
  even: (from: number, period: number) => TimeMap,
): TimeMap => {
  const n = at.length;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    const x = (ticks[i] ?? 0) / map.step;
    const y = at[i] ?? 0;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  const spread = n * sxx - sx * sx;
  if (spread <= 0) return map;
  const period = (n * sxy - sx * sy) / spread;
  return period > 0.2 && period < 2 ? even((sy - period * sx) / n, period) : map;
};

export const placeSeconds = secondsAt;
