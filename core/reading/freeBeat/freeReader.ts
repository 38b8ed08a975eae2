import { intAt, realAt } from '../model/at.ts';
import { toNumber } from '../../foundation/fraction.ts';
import { metre, showMetre, tactus } from '../../foundation/metre.ts';
import type { CleanTake } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import { type Barring, barringsOf } from '../knownBeat/barlines.ts';
import { anchored } from '../knownBeat/knownBeat.ts';
import { type Guess, guessesOfAverage, guessesOfWhole, guessesWaiting } from './beatGuesses.ts';
import { beatTimesOf } from './beatTimes.ts';
import { findLag, type Lag } from '../repeats/lag.ts';
import { latticeOf, TICKS } from '../search/lattice.ts';
import { NO_PIN } from '../search/cells.ts';
import { evidenceOf } from '../onBeat/evidence.ts';
import { type Beat, type Candidate, candidatesOn } from '../onBeat/onBeat.ts';

import { periodOf } from './period.ts';
import { ideaCost, phraseCost } from './phraseCost.ts';
import { spelt } from './spelt.ts';
import type { Hints } from '../model/reading.ts';
import { ticksAt } from '../search/timeMap.ts';
import { tempoOf } from '../writing/writeReading.ts';
import { WAITING, SHORTEST_BEAT, ALIKE, CLOSELY, HOPELESS, TEMPO_SLACK } from './constants.ts';
import { PLAYER } from '../onBeat/constants.ts';

/** A beat found for a take without a click, with its metre and barline. */
interface FreeBeat extends Beat {
  /** Nats of the beat itself. */
  readonly cost: number;
}

/** Beat times for a guess, and the metre that fits it. */
const beatOf = (guess: Guess, at: Float64Array, barring: Barring): FreeBeat => {
  const bar = (TICKS * barring.metre.upper) / barring.metre.lower;
  const first = intAt(guess.ticks, 0);
  const lead = (((barring.barline - first) % bar) + bar) % bar;
  const zero = lead <= bar / 2 ? first + lead : first + lead - bar;
  const ticks = guess.ticks.map(t => (t === NO_PIN ? NO_PIN : t - zero));
  // Where the barline lies between its beats, none of them can be told from the others.
  const held = zero % guess.beat === 0 ? guess.held.map(t => (t - zero) / guess.beat) : [];
  const { map, cost } = beatTimesOf(
    { ticks, held, beat: guess.beat, swingHalf: guess.swingHalf, spread: PLAYER.spread, parts: guess.parts },
    at,
    guess.length,
  );
  return {
    lattice: latticeOf(barring.metre),
    map,
    cost,
  };
};

const sameBeat = (a: FreeBeat, b: FreeBeat, at: Float64Array): boolean => {
  if (showMetre(a.lattice.metre) !== showMetre(b.lattice.metre)) return false;
  const cell = a.lattice.cells[0]?.length ?? a.map.step;
  const apart = at.map(t => (ticksAt(a.map, t) - ticksAt(b.map, t)) / a.lattice.bar);
  const bars = Math.round(realAt(apart, 0));
  return apart.every(d => Math.abs(d - bars) * a.lattice.bar < ALIKE * cell);
};

/** Beats for a take without a click, each with its best metre: the cheapest of the whole take, then of its average. */
const findBeats = (
  clean: CleanTake,
  pin: Int32Array,
  hints: Hints,
  lag: Lag | undefined,
  most: number,
): FreeBeat[] => {
  const at = Float64Array.from(clean.events, e => e.at);
  const n = at.length;
  const anchor = clean.events.findIndex(
    e => hints.firstBeatStrike !== undefined && e.strikes.includes(hints.firstBeatStrike),
  );
  const whole = guessesOfWhole(at, pin, lag, hints);
  const averaged = lag === undefined ? [] : guessesOfAverage(at, lag, hints);
  const seen = new Set<string>();
  const taken: FreeBeat[] = [];
  const choose = (guesses: readonly Guess[], atMost: number): FreeBeat[] => {
    const chosen: FreeBeat[] = [];
    for (const guess of guesses) {
      const origin = intAt(guess.ticks, 0);
      const key = `${String(guess.parts)}:${guess.ticks.map(t => (t === NO_PIN ? t : t - origin)).join()}`;
      if (seen.has(key)) continue;
      seen.add(key);
      const pinned = pin.findIndex((p, i) => p !== NO_PIN && guess.ticks[i] !== NO_PIN);
      const fixed =
        pinned >= 0
          ? intAt(guess.ticks, pinned) - intAt(pin, pinned)
          : anchor >= 0
            ? guess.ticks[anchor]
            : undefined;
      const known = Array.from({ length: n }, (_, i) => i).filter(i => guess.ticks[i] !== NO_PIN);
      const [barring] = barringsOf(guess.parts, {
        ticks: Int32Array.from(known, i => intAt(guess.ticks, i)),
        velocity: known.map(i => clean.events[i]?.velocity ?? 64),
        period: lag === undefined ? 0 : periodOf(guess.ticks, lag),
        ...(fixed === undefined ? {} : { fixed }),
        ...(hints.metre === undefined ? {} : { only: hints.metre }),
      });
      if (barring === undefined) continue;
      const beat = beatOf(guess, at, barring);
      // A fit that runs backwards is no beat.
      if (beat.map.beats.some((t, k) => k > 0 && t - (beat.map.beats[k - 1] ?? t) < SHORTEST_BEAT)) continue;
      if ([...taken, ...chosen].some(other => sameBeat(beat, other, at))) continue;
      chosen.push(beat);
      if (chosen.length >= atMost) break;
    }
    taken.push(...chosen);
    return chosen;
  };
  const waiting = guessesWaiting(at, pin, lag, hints, whole);
  return [
    ...choose(averaged, most),
    ...choose(whole, averaged.length > 0 ? Math.ceil(most / 2) : most),
    ...choose(waiting, WAITING.closely),
  ];
};

/** A beat at a middling tempo from the first strike, where nothing can be heard (strikes minutes apart). */
const plainBeat = (clean: CleanTake, at: Float64Array, hints: Hints): Beat => {
  const m = hints.metre ?? metre(4, 4);
  const from = realAt(at, 0);
  const length = 60 / (hints.tempo ?? 100);
  const count = Math.min(100_000, Math.ceil((realAt(at, at.length - 1) - from) / length) + 2);
  const map = {
    beats: Float64Array.from({ length: count }, (_, k) => from + k * length),
    step: toNumber(tactus(m)) * TICKS,
    zero: 0,
  };
  const lattice = latticeOf(m);
  return { lattice, map: anchored(clean, hints, map, lattice), open: true };
};

/**
 * Ways of writing a take whose beat nobody heard, cheapest first, costs in nats; never empty where something was struck.
 */
export const readFree = (take: Take, clean: CleanTake, hints: Hints): Candidate[] => {
  const pin = evidenceOf(clean, hints).pin;
  const at = Float64Array.from(clean.events, e => e.at);
  const free = new Int32Array(pin.length).fill(NO_PIN);
  const lag = findLag(take, clean.events, at);
  const heard = findBeats(clean, pin, hints, lag, CLOSELY);
  const beats = heard.length > 0 ? heard : findBeats(clean, free, hints, lag, CLOSELY);
  if (beats.length === 0) return candidatesOn(take, clean, hints, plainBeat(clean, at, hints), 0);
  const all = beats.flatMap(beat => candidatesOn(take, clean, hints, { ...beat, open: true }, beat.cost));
  const held = all.filter(c => c.found.forced !== true);
  const heldOrAny = held.length > 0 ? held : all;
  const wanted = heldOrAny.filter(c => nearTempo(c.beat, hints));
  const worth = (wanted.length > 0 ? wanted : heldOrAny).sort((a, b) => a.cost - b.cost);
  const limit = (worth[0]?.cost ?? 0) + HOPELESS;
  const best = new Map<string, Candidate>();
  for (const c of worth) {
    if (c.cost > limit) break;
    const key = `${showMetre(c.beat.lattice.metre)}:${c.found.ticks.join()}`;
    // The cheapest way to the same places came first.
    if (!best.has(key)) best.set(key, { ...c, cost: c.cost + ideaCost(c, lag) });
  }
  const whole = (c: Candidate): number => phraseCost(c, clean, hints, lag);
  return spelt([...best.values()], whole, take, clean, hints, lag).sort((a, b) => a.cost - b.cost);
};

const nearTempo = (beat: Beat, hints: Hints): boolean => {
  if (hints.tempo === undefined) return true;
  const cell = beat.lattice.cells[0]?.length ?? beat.map.step;
  const wished = (hints.tempo * toNumber(tactus(beat.lattice.metre)) * TICKS) / cell;
  return Math.abs(Math.log2(tempoOf(beat) / wished)) < TEMPO_SLACK;
};
