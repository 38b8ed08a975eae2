import { compare, toNumber, ZERO } from '../foundation/fraction.ts';
import { metre, tactus } from '../foundation/metre.ts';
import { cleanTake, type CleanTake } from '../take/clean.ts';
import type { Take } from '../take/take.ts';
import { feelOf, type Found, placeOnBeat, residuals, stageFor } from './clickReader.ts';
import type { Swinging } from './swings.ts';
import { mostEven, swingsOf } from './swings.ts';
import { type Lattice, latticeOf, TICKS, toFraction, toTicks } from './lattice.ts';
import { lengthsOf } from './lengths.ts';
import { type Evidence, NO_PIN, type Stage } from './layout.ts';
import { PARAMETERS } from './parameters.ts';
import type { Grid, Hints, Reading, ReadNote } from './reading.ts';
import { readRepeats } from './jointReader.ts';
import { barringsOf } from './barlines.ts';
import { chooseReadings } from './choose.ts';
import { reasonOf } from './reason.ts';
import { beatsFromTaps } from './taps.ts';
import { findBeats, refitted } from './freeReader.ts';
import { findRepeats } from './repeats.ts';
import { secondsAt, ticksAt, type TimeMap } from './timeMap.ts';
import type { Vocabulary } from './prior.ts';
import { vocabulariesOf, writtenOut } from './vocabularies.ts';

const DEEP = 14;

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

/** Chance of each candidate, from costs; a little is left for what no candidate says. */
const chancesOf = (costs: readonly number[], open: boolean): number[] => {
  const { temper, among } = open ? PARAMETERS.free : PARAMETERS;
  const least = Math.min(...costs);
  const raw = costs.map(c => Math.exp(-(c - least) / temper));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map(r => (among * r) / sum);
};

/** Divisions of a beat that a grid reaches; strikes too fast for any rhythm are put on these, several to a place if need be. */
const FINEST: Readonly<Record<Grid, number>> = {
  beat: 1,
  half: 2,
  quarter: 4,
  eighth: 8,
  triplet: 6,
  sextuplet: 12,
  automatic: 8,
};

/**
 * The last resort, for strikes that no rhythm of the grid can hold (a roll, a grid too coarse, pins that
 * cross): each on the nearest place of the grid, pinned ones where the teacher wants them.
 */
const placeAnywhere = (stage: Stage, evidence: Evidence, map: TimeMap, grid: Grid): Found => {
  const cell = (stage.start[1] ?? TICKS / 4) - (stage.start[0] ?? 0);
  const parts = stage.parts[0] === 3 && grid !== 'beat' ? Math.max(3, (FINEST[grid] * 3) / 2) : FINEST[grid];
  const step = Math.max(1, Math.round(cell / parts));
  const ticks = new Int32Array(evidence.events);
  evidence.at.forEach((t, i) => {
    const own = Math.round(ticksAt(map, t) / step) * step;
    const pin = evidence.pin[i] ?? NO_PIN;
    ticks[i] = pin === NO_PIN ? own : pin;
  });
  const [vocabulary] = vocabulariesOf(grid);
  if (vocabulary === undefined) throw new RangeError('a grid without a vocabulary');
  const [straight] = swingsOf('none');
  const swing = straight ?? { ratio: 1, of: 'half', cost: 0 };
  return { ticks, cost: 0, vocabulary, swing, feel: feelOf(PARAMETERS.spread, 0, swing), forced: true };
};

/**
 * Pins are law, and so is the grid: where the grid has no such place for a pin all divisions are tried;
 * where no rhythm holds the strikes they are put on the nearest places.
 */
const placeSomehow = (
  stage: Stage,
  evidence: Evidence,
  map: TimeMap,
  grid: Grid,
  vocabularies: readonly Vocabulary[],
  swings: readonly Swinging[],
): Found[] => {
  const found = placeOnBeat(stage, evidence, vocabularies, swings, DEEP);
  if (found.length > 0) return found;
  const wide = evidence.pin.some(p => p !== NO_PIN)
    ? placeOnBeat(stage, evidence, vocabulariesOf('automatic'), swings, DEEP)
    : [];
  return wide.length > 0 ? wide : [placeAnywhere(stage, evidence, map, grid)];
};

interface OnBeat {
  readonly found: readonly Found[];
  readonly stage: Stage;
  readonly evidence: Evidence;
  readonly period?: number;
}

/**
 * The ratio a phrase is swung at, where that is more than the tolerance the teacher chose; undefined
 * where it is within it, where the grid is chosen too, or where beats divide in three anyway. Without
 * this an uneven player would only seem to be an unsteady one, and be written even.
 */
const swingBeyond = (stage: Stage, evidence: Evidence, hints: Hints, beat: Beat): number | undefined => {
  const tolerance = hints.swingTolerance;
  if (tolerance === undefined || tolerance === 'high') return undefined;
  if ((hints.grid ?? 'automatic') !== 'automatic' || beat.lattice.cells[0]?.parts === 3) return undefined;
  const [freely] = placeOnBeat(stage, evidence, vocabulariesOf('automatic'), swingsOf('high'), 1);
  if (freely?.swing.of !== 'half') return undefined;
  return freely.swing.ratio > mostEven(tolerance) + 0.2 ? freely.swing.ratio : undefined;
};

/** Reads on a known beat, alone and, when the idea comes again, all repeats together; best first. */
const readOnBeat = (take: Take, clean: CleanTake, hints: Hints, beat: Beat): OnBeat => {
  const evidence = evidenceOf(clean, hints);
  const n = evidence.events;
  const { lattice, map } = beat;
  const stage = stageFor(lattice, map, evidence.at[0] ?? 0, evidence.at[n - 1] ?? 0);
  const swings = swingsOf(hints.swingTolerance ?? 'medium');
  const beyond = swingBeyond(stage, evidence, hints, beat);
  const vocabularies =
    beyond === undefined ? vocabulariesOf(hints.grid ?? 'automatic', beat.open ?? false) : writtenOut(beyond);
  const alone = placeSomehow(stage, evidence, map, hints.grid ?? 'automatic', vocabularies, swings);
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
  if (joint === undefined || b === undefined || (!joint.pinned && a !== undefined && a.cost < b.cost))
    return { found: alone, stage, evidence };
  const seen = new Set(joint.found.map(f => f.ticks.join()));
  const rest = joint.pinned ? [] : alone.filter(f => !seen.has(f.ticks.join()));
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

/** Confidence in strikes put on the nearest places. */
const FORCED = 0.1;

/** Beats looked at closely when there is no click: of the whole take, and of the average of its repeats. */
const CLOSELY = 6;

/** A beat at a middling tempo from the first strike, where nothing can be heard (strikes minutes apart). */
const plainBeat = (at: Float64Array, hints: Hints): Beat => {
  const m = hints.metre ?? metre(4, 4);
  const from = at[0] ?? 0;
  const length = 60 / (hints.tempo ?? 100);
  const count = Math.min(100_000, Math.ceil(((at[at.length - 1] ?? 0) - from) / length) + 2);
  const map = {
    beats: Float64Array.from({ length: count }, (_, k) => from + k * length),
    step: toNumber(tactus(m)) * TICKS,
    zero: 0,
  };
  return { lattice: latticeOf(m), map, open: true };
};

const readFree = (take: Take, clean: CleanTake, hints: Hints): Candidate[] => {
  const pin = evidenceOf(clean, hints).pin;
  const at = Float64Array.from(clean.events, e => e.at);
  const free = new Int32Array(pin.length).fill(NO_PIN);
  const heard = findBeats(take, clean, pin, hints, CLOSELY);
  const beats = heard.length > 0 ? heard : findBeats(take, clean, free, hints, CLOSELY);
  if (beats.length === 0) return candidatesOn(take, clean, hints, plainBeat(at, hints), 0);
  const all = beats.flatMap(beat => {
    const [first] = readOnBeat(take, clean, hints, { ...beat, open: true }).found;
    if (first === undefined) return [];
    const better = refitted(beat, first, at);
    return candidatesOn(take, clean, hints, { ...better, open: true }, better.cost);
  });
  const best = new Map<string, Candidate>();
  const wanted = all.filter(c => nearTempo(c.beat, hints));
  for (const c of wanted.length > 0 ? wanted : all) {
    const key = `${c.beat.lattice.metre.beats}/${c.beat.lattice.metre.unit}:${c.found.ticks.join()}`;
    const known = best.get(key);
    if (known === undefined || c.cost < known.cost) best.set(key, c);
  }
  return [...best.values()].sort((a, b) => a.cost - b.cost);
};

/** A wished tempo is met within so many octaves. */
const TEMPO_SLACK = 0.13;

const nearTempo = (beat: Beat, hints: Hints): boolean => {
  if (hints.tempo === undefined) return true;
  const cell = beat.lattice.cells[0]?.length ?? beat.map.step;
  const wished = (hints.tempo * toNumber(tactus(beat.lattice.metre)) * TICKS) / cell;
  return Math.abs(Math.log2(tempoOf(beat) / wished)) < TEMPO_SLACK;
};

const readClick = (take: Take, clean: CleanTake, hints: Hints): Candidate[] | undefined => {
  const click = hints.free === true ? undefined : take.click;
  const tapped = beatsFromTaps(hints.taps ?? []);
  const beats = tapped.length >= 2 ? tapped : click?.beats;
  if (beats === undefined) return undefined;
  const m = hints.metre ?? click?.metre ?? metre(4, 4);
  const map: TimeMap = {
    beats: Float64Array.from(beats),
    step: Math.round(toNumber(tactus(m)) * TICKS),
    zero: 0,
  };
  const beat = {
    lattice: latticeOf(m),
    map:
      tapped.length >= 2
        ? barlineOfTaps(clean, hints, map, latticeOf(m))
        : anchored(clean, hints, map, latticeOf(m)),
  };
  return candidatesOn(take, clean, hints, beat, 0);
};

const eventOf = (clean: CleanTake, strike: number | undefined): number =>
  strike === undefined ? -1 : clean.events.findIndex(e => e.strikes.includes(strike));

/** The same beats, counted so that the named strike falls on the first barline. */
const anchored = (clean: CleanTake, hints: Hints, map: TimeMap, lattice: Lattice): TimeMap => {
  const event = clean.events[eventOf(clean, hints.firstBeatStrike)];
  if (event === undefined) return map;
  const cell = lattice.cells[0]?.length ?? map.step;
  const beats = (Math.round(ticksAt(map, event.at) / cell) * cell) / map.step;
  return { ...map, zero: map.zero + beats };
};

/** Taps say where beats are, not which is the first: that is heard from the strikes. */
const barlineOfTaps = (clean: CleanTake, hints: Hints, map: TimeMap, lattice: Lattice): TimeMap => {
  if (eventOf(clean, hints.firstBeatStrike) >= 0) return anchored(clean, hints, map, lattice);
  if ((hints.pins ?? []).length > 0) return map;
  const parts = lattice.cells[0]?.parts ?? 2;
  const cell = lattice.cells[0]?.length ?? map.step;
  // Rounded to a quarter of a beat: near enough to tell strong places from weak ones.
  const fine = cell / (parts === 3 ? 6 : 4);
  const ticks = Int32Array.from(clean.events, e => Math.round(ticksAt(map, e.at) / fine) * fine);
  const [barring] = barringsOf(parts, {
    ticks,
    velocity: clean.events.map(e => e.velocity),
    period: 0,
    only: lattice.metre,
  });
  if (barring === undefined) return map;
  const lead = (((barring.barline - (ticks[0] ?? 0)) % lattice.bar) + lattice.bar) % lattice.bar;
  const zero = (ticks[0] ?? 0) + lead - (lead <= lattice.bar / 2 ? 0 : lattice.bar);
  return { ...map, zero: map.zero + zero / map.step };
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
  const best = all[0] ?? c;
  const doubt = Array.from(found.ticks, (t, i) => {
    let same = 0;
    all.forEach((other, j) => {
      if (other.found.ticks[i] === t) same += chances[j] ?? 0;
    });
    return Math.max(0, Math.min(1, 1 - same));
  });
  const off = residuals(stage, evidence, found.ticks, found.feel);
  const misfit = 1000 * Math.sqrt(off.reduce((s, e) => s + e * e, 0) / Math.max(1, off.length));
  const gaps = clean.events.map((e, i) => {
    const at = found.ticks[i] ?? 0;
    const held =
      take.lengthsMean && e.until !== undefined
        ? ticksAt(beat.map, e.until) - ticksAt(beat.map, e.at)
        : undefined;
    return held === undefined ? { at } : { at, held };
  });
  const lengths = lengthsOf(gaps, beat.lattice, hints.letRing ?? false);
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
    notes: notesOf(take, clean, found, lengths, doubt).sort(
      (a, b) => compare(a.onset, b.onset) || a.pitch - b.pitch || a.strike - b.strike,
    ),
    dropped: clean.dropped,
    misfit,
    confidence: found.forced === true ? FORCED : (chances[rank] ?? 0),
    reason: reasonOf(
      found,
      beat.lattice,
      best.found,
      best.beat.lattice.metre,
      tempoOf(best.beat),
      tempoOf(beat),
    ),
    beats,
    firstBeat: zero,
    ...(c.period === undefined ? {} : { period: c.period }),
  };
};

/** The same for beats that a listener would call the same. */
const beatName = (beat: Beat): string =>
  `${String(beat.lattice.cells[0]?.parts ?? 2)}:${String(Math.round(Math.log2(tempoOf(beat)) / 0.1))}`;

/** Cells a minute, for comparing readings. */
const tempoOf = (beat: Beat): number => {
  const { beats, step } = beat.map;
  const cell = beat.lattice.cells[0]?.length ?? step;
  return (60 * (beats.length - 1) * step) / cell / ((beats[beats.length - 1] ?? 1) - (beats[0] ?? 0));
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
