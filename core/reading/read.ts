import { toNumber } from '../foundation/fraction.ts';
import { metre, tactus } from '../foundation/metre.ts';
import { cleanTake, type CleanTake } from '../take/clean.ts';
import type { Take } from '../take/take.ts';
import { type Lattice, latticeOf, TICKS, toTicks } from './lattice.ts';
import { NO_PIN } from './layout.ts';
import { PARAMETERS } from './parameters.ts';
import type { Hints, Reading } from './reading.ts';
import { barringsOf } from './barlines.ts';
import { chooseReadings } from './choose.ts';
import { samenessCost, samePlacesCost } from './sameness.ts';
import { beatsFromTaps } from './taps.ts';
import { findBeats, knownPeriod, usualPeriod } from './freeReader.ts';
import { latenessCost, tapShifts } from './tapPhase.ts';
import { ticksAt, type TimeMap } from './timeMap.ts';
import { evidenceOf, candidatesOn, readOnBeat, type Beat, type Candidate } from './onBeat.ts';
import { readingOf, beatName, tempoOf } from './writeReading.ts';

/** Chance of each candidate, from costs; a little is left for what no candidate says. */
const chancesOf = (costs: readonly number[], open: boolean): number[] => {
  const { temper, among } = open ? PARAMETERS.free : PARAMETERS;
  const least = Math.min(...costs);
  const raw = costs.map(c => Math.exp(-(c - least) / temper));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map(r => (among * r) / sum);
};

/** Beats looked at closely when there is no click: of the whole take, and of the average of its repeats. */
const CLOSELY = 12;

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
  const all = beats.flatMap(beat => candidatesOn(take, clean, hints, { ...beat, open: true }, beat.cost));
  const held = all.filter(c => c.found.forced !== true);
  const heldOrAny = held.length > 0 ? held : all;
  const wanted = heldOrAny.filter(c => nearTempo(c.beat, hints));
  const worth = (wanted.length > 0 ? wanted : heldOrAny).sort((a, b) => a.cost - b.cost);
  const limit = (worth[0]?.cost ?? 0) + HOPELESS;
  const best = new Map<string, Candidate>();
  for (const plain of worth) {
    if (plain.cost > limit) break;
    const key = `${plain.beat.lattice.metre.beats}/${plain.beat.lattice.metre.unit}:${plain.found.ticks.join()}`;
    // The cheapest way to the same places came first.
    if (!best.has(key)) best.set(key, { ...plain, cost: plain.cost + phraseCost(plain, clean, hints) });
  }
  return [...best.values()].sort((a, b) => a.cost - b.cost);
};

/** Nats behind the best, on its beat alone, beyond which a candidate is not weighed further. */
const HOPELESS = 18;

/** Nats for what only a whole reading shows: barlines, sameness, and how many beats the idea lasts. */
const phraseCost = (c: Candidate, clean: CleanTake, hints: Hints): number => {
  const p = PARAMETERS.free;
  const { lattice } = c.beat;
  const cell = lattice.cells[0];
  if (cell === undefined) return 0;
  const period = (c.period ?? 0) * lattice.bar;
  const barrings = barringsOf(cell.parts, {
    ticks: c.found.ticks,
    velocity: clean.events.map(e => e.velocity),
    period,
    ...(hints.metre === undefined ? {} : { only: hints.metre }),
  });
  const mass = barrings.reduce((sum, b) => sum + Math.exp(-b.cost), 0);
  const beats = period / cell.length;
  return (
    -p.bars * Math.log(mass) +
    samenessCost(c.found.ticks, cell.length, cell.parts) +
    (period === 0 || usualPeriod(beats, cell.parts)
      ? 0
      : knownPeriod(beats, cell.parts)
        ? p.rareBars
        : p.oddBars)
  );
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
  const lattice = latticeOf(m);
  const map: TimeMap = {
    beats: Float64Array.from(beats),
    step: Math.round(toNumber(tactus(m)) * TICKS),
    zero: 0,
  };
  const beat =
    tapped.length >= 2
      ? { lattice, map: barlineOfTaps(clean, hints, tapsInTime(take, clean, hints, map, lattice), lattice) }
      : { lattice, map: anchored(clean, hints, map, lattice) };
  const cell = lattice.cells[0]?.length ?? map.step;
  return candidatesOn(take, clean, hints, beat, 0)
    .map(c => ({ ...c, cost: c.cost + samePlacesCost(c.found.ticks, lattice.bar, cell) }))
    .sort((a, b) => a.cost - b.cost);
};

/** Lateness of taps that is tried with a whole reading. */
const SHIFTS = 3;
/** Nats behind the best beyond which a shift is not tried. */
const UNLIKELY = 8;

/** Tapped beats with the taps' own lateness taken off: of the likely shifts, the one that reads best. */
const tapsInTime = (take: Take, clean: CleanTake, hints: Hints, map: TimeMap, lattice: Lattice): TimeMap => {
  const shifts = tapShifts(
    map,
    Float64Array.from(clean.events, e => e.at),
    SHIFTS,
  );
  const least = shifts[0]?.cost ?? 0;
  const shifted = (seconds: number): TimeMap => ({ ...map, beats: map.beats.map(b => b - seconds) });
  const likely = shifts.filter(s => s.cost < least + UNLIKELY);
  if (likely.length === 1) return shifted(likely[0]?.seconds ?? 0);
  const free = { ...hints, pins: [] };
  const read = likely.map(s => ({
    map: shifted(s.seconds),
    cost:
      latenessCost(s.seconds) +
      (readOnBeat(take, clean, free, { lattice, map: shifted(s.seconds) }).found[0]?.cost ?? Infinity),
  }));
  return read.reduce((best, r) => (r.cost < best.cost ? r : best), read[0] ?? { map, cost: 0 }).map;
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
  const parts = lattice.cells[0]?.parts ?? 2;
  const cell = lattice.cells[0]?.length ?? map.step;
  const [pin] = hints.pins ?? [];
  const pinned = clean.events[eventOf(clean, pin?.strike)];
  // A pin counts from a barline too: the one that puts its strike nearest to it.
  if (pin !== undefined && pinned !== undefined) {
    const beats = Math.round((ticksAt(map, pinned.at) - toTicks(pin.onset)) / cell) * cell;
    return { ...map, zero: map.zero + beats / map.step };
  }
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
