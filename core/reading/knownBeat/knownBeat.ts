import { intAt } from '../model/at.ts';
import { toNumber } from '../../foundation/fraction.ts';
import { metre, tactus } from '../../foundation/metre.ts';
import type { CleanTake } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import { barringsOf } from './barlines.ts';
import { type Lattice, latticeOf, TICKS, toTicks } from '../search/lattice.ts';
import { type Candidate, candidatesOn, readOnBeat } from '../onBeat/onBeat.ts';
import type { Hints } from '../model/reading.ts';
import { repeatedPlacesCost } from '../rhythm/repetitionPrior.ts';
import { latenessCost, tapShifts } from './tapPhase.ts';
import { groupingHeard } from './groupings.ts';
import { clickCountedAt } from './clickTempo.ts';
import { beatsFromTaps } from './taps.ts';
import { ticksAt, type TimeMap } from '../search/timeMap.ts';
import { SHIFTS_TRIED, UNLIKELY_SHIFT } from './constants.ts';

/** Readings on a beat that was heard (a click) or tapped; undefined where there is neither. */
export const readOnKnownBeat = (take: Take, clean: CleanTake, hints: Hints): Candidate[] | undefined => {
  const click = hints.free === true ? undefined : take.click;
  const tapped = beatsFromTaps(hints.taps ?? []);
  const beats = tapped.length >= 2 ? tapped : click && clickCountedAt(click.beats, hints.tempo);
  if (beats === undefined) return undefined;
  const told = hints.metre ?? click?.metre ?? metre(4, 4);
  const map: TimeMap = {
    beats: Float64Array.from(beats),
    step: Math.round(toNumber(tactus(told)) * TICKS),
    zero: 0,
  };
  // How fives and sevens are grouped is heard to a click, where nobody chose it.
  const isOpen = hints.metre === undefined && tapped.length < 2;
  const lattice = latticeOf(isOpen ? groupingHeard(told, map, clean) : told);
  const beat =
    tapped.length >= 2
      ? { lattice, map: barlineOfTaps(clean, hints, tapsInTime(take, clean, hints, map, lattice), lattice) }
      : { lattice, map: anchored(clean, hints, map, lattice) };
  const cell = lattice.cells[0]?.length ?? map.step;
  return candidatesOn(take, clean, hints, beat, 0)
    .map(c => ({ ...c, cost: c.cost + repeatedPlacesCost(c.found.ticks, lattice.bar, cell) }))
    .sort((a, b) => a.cost - b.cost);
};

/** Tapped beats with the taps' own lateness taken off: of the likely shifts, the one that reads best. */
const tapsInTime = (take: Take, clean: CleanTake, hints: Hints, map: TimeMap, lattice: Lattice): TimeMap => {
  const shifts = tapShifts(
    map,
    Float64Array.from(clean.events, e => e.at),
    SHIFTS_TRIED,
  );
  const least = shifts[0]?.cost ?? 0;
  const shifted = (seconds: number): TimeMap => ({ ...map, beats: map.beats.map(b => b - seconds) });
  const likely = shifts.filter(s => s.cost < least + UNLIKELY_SHIFT);
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

/** The event a strike belongs to; a grace note's is that of the note it leans on. */
const eventOf = (clean: CleanTake, strike: number | undefined): number => {
  if (strike === undefined) return -1;
  const note = [...clean.graces].find(([, strokes]) => strokes.includes(strike))?.[0] ?? strike;
  return clean.events.findIndex(e => e.strikes.includes(note));
};

/**
 * The same beats, counted so that the named strike falls on a barline: the first one, or a later one where
 * more than a bar is played before it, for an upbeat is shorter than a bar.
 */
export const anchored = (clean: CleanTake, hints: Hints, map: TimeMap, lattice: Lattice): TimeMap => {
  const event = clean.events[eventOf(clean, hints.firstBeatStrike)];
  if (event === undefined) return map;
  // Where the beats of a bar are of two lengths (3 + 2), the nearest beat may be none of those counted now.
  const even = lattice.cells.every(one => one.length === lattice.cells[0]?.length);
  const cell = even ? (lattice.cells[0]?.length ?? map.step) : map.step;
  const beat = Math.round(ticksAt(map, event.at) / cell) * cell;
  // Rounded down to half a beat: what was struck a little late may be written a little more than a bar before.
  const first = (Math.floor((ticksAt(map, clean.events[0]?.at ?? event.at) / cell) * 2) / 2) * cell;
  const bars = Math.max(0, Math.floor((beat - first) / lattice.bar));
  return { ...map, zero: map.zero + (beat - bars * lattice.bar) / map.step };
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
  const lead = (((barring.barline - intAt(ticks, 0)) % lattice.bar) + lattice.bar) % lattice.bar;
  const zero = intAt(ticks, 0) + lead - (lead <= lattice.bar / 2 ? 0 : lattice.bar);
  return { ...map, zero: map.zero + zero / map.step };
};
