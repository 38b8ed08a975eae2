import { toNumber } from '../foundation/fraction.ts';
import { isCompound, type Metre, tactus } from '../foundation/metre.ts';
import type { CleanTake } from '../take/clean.ts';
import type { Take } from '../take/take.ts';
import { type Barring, barringsOf } from './barlines.ts';
import { fitBeats } from './beatFit.ts';
import { type BeatGuess, searchBeat } from './beatSearch.ts';
import { findLag, type Lag } from './lag.ts';
import { type Lattice, latticeOf, TICKS } from './lattice.ts';
import { NO_PIN } from './layout.ts';
import { PARAMETERS } from './parameters.ts';
import { pricesOf, type Vocabulary } from './prior.ts';
import type { Hints } from './reading.ts';
import type { Found } from './clickReader.ts';
import { secondsAt, type TimeMap } from './timeMap.ts';
import { vocabulariesOf } from './vocabularies.ts';

/** A beat found for a take without a click, with its metre and barline. */
export interface FreeBeat {
  readonly lattice: Lattice;
  readonly map: TimeMap;
  /** Nats: of the beat with its rhythm, and of the barline. */
  readonly cost: number;
  /** The part of it that does not change when the beat is fitted again. */
  readonly barCost: number;
  readonly parts: 2 | 3;
  /** Whether it came from the average of all repeats. */
  readonly averaged: boolean;
}

/** How players play together with how steadily they keep the beat: [spread in seconds, drift a beat]. */
const PLAYERS: readonly (readonly [number, number])[] = [
  [0.02, 0.016],
  [0.036, 0.045],
];
const WIDTH = 16;
/** Beats tried: 24 to the two octaves around, in seconds. */
const SHORTEST = 0.27;
const LONGEST = 1.5;

const lengthsBetween = (low: number, high: number): number[] => {
  const all: number[] = [];
  for (let l = low; l < high; l *= 1.05) all.push(l);
  return all;
};

/** Nats for a beat of so many seconds: a lognormal about the tempo people count at. */
const lengthCost = (seconds: number, parts: 2 | 3): number => {
  const p = PARAMETERS.free;
  const middle = parts === 2 ? p.beat : p.dottedBeat;
  return 0.5 * (Math.log2(seconds / middle) / p.beatSpread) ** 2 + (parts === 3 ? p.compound : 0);
};

/** Kinds of beat a metre allows. */
const kindsOf = (m: Metre | undefined): readonly (2 | 3)[] => {
  if (m === undefined) return [2, 3];
  return isCompound(m) || (m.beats === 3 && m.unit >= 8) ? [3] : [2];
};

/** Whether an idea usually lasts so many beats; whether it may without being odd. */
export const usualPeriod = (beats: number, parts: 2 | 3): boolean =>
  (parts === 2 ? [4, 8, 16] : [2, 4, 8]).includes(beats);
export const knownPeriod = (beats: number, parts: 2 | 3): boolean =>
  (parts === 2 ? [3, 6, 12, 2] : [3, 6, 1]).includes(beats);

/** Nats by which a guess disagrees with an idea that comes again after a known time. */
const closure = (guess: BeatGuess, lag: Lag | undefined): number => {
  if (lag === undefined) return 0;
  let broken = 0;
  let pairs = 0;
  const period = periodOf(guess.ticks, lag);
  lag.next.forEach((j, i) => {
    if (j < 0 || guess.ticks[i] === NO_PIN || guess.ticks[j] === NO_PIN) return;
    pairs++;
    if ((guess.ticks[j] ?? 0) - (guess.ticks[i] ?? 0) !== period) broken++;
  });
  const beats = period / guess.beat;
  const whole = Number.isInteger(beats);
  const p = PARAMETERS.free;
  const usual = usualPeriod(beats, guess.parts);
  const known = knownPeriod(beats, guess.parts);
  return (
    p.broken * broken * Math.min(1, 8 / Math.max(1, pairs)) +
    (!whole ? p.unevenPeriod : usual ? 0 : known ? p.rarePeriod : p.oddPeriod)
  );
};

/** The commonest distance between repeats, in ticks. */
const periodOf = (ticks: Int32Array, lag: Lag): number => {
  const count = new Map<number, number>();
  lag.next.forEach((j, i) => {
    if (j < 0 || ticks[i] === NO_PIN || ticks[j] === NO_PIN) return;
    const d = (ticks[j] ?? 0) - (ticks[i] ?? 0);
    count.set(d, (count.get(d) ?? 0) + 1);
  });
  let best = 0;
  let most = 0;
  for (const [d, c] of count) {
    if (c > most) {
      most = c;
      best = d;
    }
  }
  return best;
};

/** The idea's strikes with the times of all its repeats averaged, and the next start as a last strike. */
const folded = (
  at: Float64Array,
  lag: Lag,
): { at: Float64Array; heads: number[]; count: number } | undefined => {
  const n = at.length;
  const follows = new Uint8Array(n);
  lag.next.forEach(j => {
    if (j >= 0) follows[j] = 1;
  });
  const first = at[0] ?? 0;
  const heads: number[] = [];
  const times: number[] = [];
  let count = 1;
  for (let i = 0; i < n; i++) {
    if (follows[i] === 1 || (at[i] ?? 0) > first + lag.seconds - 0.08) continue;
    let sum = 0;
    let c = 0;
    for (let j = i; j >= 0; j = lag.next[j] ?? -1) sum += (at[j] ?? 0) - c++ * lag.seconds;
    heads.push(i);
    times.push(sum / c);
    count = Math.max(count, c);
  }
  if (heads.length < 3) return undefined;
  const start = times[0] ?? 0;
  times.push(start + lag.seconds);
  for (let i = 1; i < times.length; i++) if ((times[i] ?? 0) <= (times[i - 1] ?? 0)) return undefined;
  return { at: Float64Array.from(times), heads, count };
};

interface Guess extends BeatGuess {
  /** Nats by which it disagrees with the repeats. */
  readonly closure: number;
}

/** Guesses at the beat, from the whole take and, when the idea comes again, from its average. */
const guessesOf = (
  at: Float64Array,
  pin: Int32Array,
  lag: Lag | undefined,
  hints: Hints,
): { whole: Guess[]; averaged: Guess[] } => {
  const kinds = kindsOf(hints.metre);
  const vocabularies: readonly Vocabulary[] = vocabulariesOf(hints.grid ?? 'automatic', true).filter(
    v => (hints.grid ?? 'automatic') !== 'automatic' || PARAMETERS.free.seek.includes(v.name),
  );
  const beatSeconds = hints.tempo === undefined ? undefined : cellSeconds(hints.metre, hints.tempo, kinds);
  const lengths =
    beatSeconds === undefined
      ? lengthsBetween(SHORTEST, LONGEST)
      : lengthsBetween(beatSeconds * 0.91, beatSeconds * 1.1);
  const swings = (hints.swingTolerance ?? 'medium') === 'none' ? [0.5] : [0.5, 0.62];
  const n = at.length;
  const out: Guess[] = [];
  const averaged: Guess[] = [];
  for (const v of vocabularies) {
    for (const [spread, drift] of PLAYERS) {
      const options = {
        prices: pricesOf(v),
        divisions: v,
        spread,
        drift,
        swings,
        kinds,
        lengthCost: beatSeconds === undefined ? lengthCost : () => 0,
        lengths,
        lengthSpread: 0.03,
        width: WIDTH,
        pin,
      };
      const player =
        v.cost +
        n * Math.log(spread / PARAMETERS.spread) +
        0.5 * (Math.log(spread / PARAMETERS.spread) / PARAMETERS.spreadOfSpread) ** 2;
      for (const g of searchBeat(at, options, 8)) {
        const apart = closure(g, lag);
        out.push({ ...g, closure: apart, cost: g.cost + player + apart });
      }
    }
  }
  const fold = lag === undefined ? undefined : folded(at, lag);
  if (fold !== undefined && lag !== undefined) {
    for (const v of vocabularies) {
      const spread = PARAMETERS.spread / Math.sqrt(fold.count);
      const options = {
        prices: pricesOf(v),
        divisions: v,
        spread,
        drift: 0.012,
        swings,
        kinds,
        lengthCost: beatSeconds === undefined ? lengthCost : () => 0,
        lengths,
        lengthSpread: 0.03,
        width: WIDTH,
        pin: new Int32Array(fold.at.length).fill(NO_PIN),
      };
      for (const g of searchBeat(fold.at, options, 8)) {
        const whole = unfolded(g, fold.heads, lag, n);
        if (whole !== undefined) {
          const apart = closure(whole, lag);
          averaged.push({ ...whole, closure: apart, cost: whole.cost + v.cost + apart });
        }
      }
    }
  }
  const byCost = (x: Guess, y: Guess): number => x.cost - y.cost;
  return { whole: out.sort(byCost), averaged: averaged.sort(byCost) };
};

/** A guess at the folded idea, written out over the take; events outside the repeats have no place (NO_PIN). */
const unfolded = (g: BeatGuess, heads: readonly number[], lag: Lag, n: number): BeatGuess | undefined => {
  const period = (g.ticks[heads.length] ?? 0) - (g.ticks[0] ?? 0);
  if (period % g.beat !== 0 || period <= 0) return undefined;
  const ticks = new Int32Array(n).fill(NO_PIN);
  heads.forEach((head, h) => {
    let r = 0;
    for (let j = head; j >= 0; j = lag.next[j] ?? -1) ticks[j] = (g.ticks[h] ?? 0) + r++ * period;
  });
  return { ...g, ticks };
};

const cellSeconds = (m: Metre | undefined, tempo: number, kinds: readonly (2 | 3)[]): number => {
  const beat = m === undefined ? (kinds[0] === 3 ? 0.375 : 0.25) : toNumber(tactus(m));
  const cell = kinds[0] === 3 ? 0.375 : 0.25;
  return (60 / tempo) * (cell / beat);
};

const swungCells = (tick: number, beat: number, half: number): number => {
  const cell = Math.floor(tick / beat);
  const part = tick / beat - cell;
  if (half === 0.5 || !Number.isInteger(part * 8)) return cell + part;
  return cell + (part < 0.5 ? part * 2 * half : half + (part - 0.5) * 2 * (1 - half));
};

/** Drifts tried when beat times are fitted. */
const DRIFTS: readonly number[] = [0.01, 0.02, 0.045];

interface Written {
  readonly ticks: Int32Array;
  readonly beat: number;
  readonly swingHalf: number;
  /** Seconds: spread and lateness of the strikes. */
  readonly spread: number;
  readonly parts: 2 | 3;
}

/** Beat times that suit written places (NO_PIN where a strike has none), with the nats they cost. */
const mapOf = (w: Written, at: Float64Array, guess: number): { map: TimeMap; cost: number } => {
  const known = Array.from(w.ticks, (t, i) => ({ t, at: at[i] ?? 0 })).filter(e => e.t !== NO_PIN);
  const cells = Float64Array.from(known, e => swungCells(e.t, w.beat, w.swingHalf));
  const times = Float64Array.from(known, e => e.at);
  let best: { map: TimeMap; cost: number } | undefined;
  let bestAll = Infinity;
  for (const drift of DRIFTS) {
    const fit = fitBeats(cells, times, w.spread, drift, guess);
    const map: TimeMap = { beats: fit.beats, step: w.beat, zero: -fit.first };
    let misses = 0;
    known.forEach((e, i) => {
      const x = (cells[i] ?? 0) - fit.first;
      const k = Math.min(fit.beats.length - 2, Math.floor(x));
      const from = fit.beats[k] ?? 0;
      misses += 0.5 * ((e.at - from - (x - k) * ((fit.beats[k + 1] ?? 0) - from)) / w.spread) ** 2;
    });
    const length = ((fit.beats[fit.beats.length - 1] ?? 1) - (fit.beats[0] ?? 0)) / (fit.beats.length - 1);
    const cost = fit.cost + lengthCost(length, w.parts) - Math.log(length) + (drift > 0.03 ? 1 : 0);
    if (cost + misses < bestAll) {
      bestAll = cost + misses;
      best = { map, cost };
    }
  }
  return best ?? { map: { beats: Float64Array.from([0, guess]), step: w.beat, zero: 0 }, cost: Infinity };
};

/** The beat once more, from a reading on it: places may have changed. */
export const refitted = (beat: FreeBeat, found: Found, at: Float64Array): FreeBeat => {
  const step = beat.map.step;
  const length =
    (secondsAt(beat.map, (found.ticks[found.ticks.length - 1] ?? 0) + step) -
      secondsAt(beat.map, found.ticks[0] ?? 0)) /
    (((found.ticks[found.ticks.length - 1] ?? 0) + step - (found.ticks[0] ?? 0)) / step);
  const { map, cost } = mapOf(
    {
      ticks: found.ticks,
      beat: step,
      swingHalf: found.feel.swingHalf,
      spread: found.feel.spread,
      parts: beat.parts,
    },
    at,
    length,
  );
  return { ...beat, map, cost: cost + beat.barCost };
};

/** Beat times for a guess, and the metre that fits it. */
const beatOf = (guess: Guess, at: Float64Array, barring: Barring, averaged: boolean): FreeBeat => {
  const bar = (TICKS * barring.metre.beats) / barring.metre.unit;
  const first = guess.ticks[0] ?? 0;
  const lead = (((barring.barline - first) % bar) + bar) % bar;
  const zero = lead <= bar / 2 ? first + lead : first + lead - bar;
  const ticks = guess.ticks.map(t => (t === NO_PIN ? NO_PIN : t - zero));
  const { map, cost } = mapOf(
    { ticks, beat: guess.beat, swingHalf: guess.swingHalf, spread: PARAMETERS.spread, parts: guess.parts },
    at,
    guess.length,
  );
  return {
    lattice: latticeOf(barring.metre),
    map,
    cost: cost + guess.closure,
    barCost: guess.closure,
    parts: guess.parts,
    averaged,
  };
};

/** Beats for a take without a click, each with its best metre: the cheapest of the whole take, then of its average. */
export const findBeats = (
  take: Take,
  clean: CleanTake,
  pin: Int32Array,
  hints: Hints,
  most: number,
): FreeBeat[] => {
  const at = Float64Array.from(clean.events, e => e.at);
  const n = at.length;
  const lag = findLag(take, clean.events, at);
  const anchor = clean.events.findIndex(
    e => hints.firstBeatStrike !== undefined && e.strikes.includes(hints.firstBeatStrike),
  );
  const { whole, averaged } = guessesOf(at, pin, lag, hints);
  const seen = new Set<string>();
  const choose = (guesses: readonly Guess[], fromAverage: boolean): FreeBeat[] => {
    const chosen: FreeBeat[] = [];
    for (const guess of guesses) {
      const origin = guess.ticks[0] ?? 0;
      const key = `${String(guess.parts)}:${guess.ticks.map(t => (t === NO_PIN ? t : t - origin)).join()}`;
      if (seen.has(key)) continue;
      seen.add(key);
      const pinned = pin.findIndex((p, i) => p !== NO_PIN && guess.ticks[i] !== NO_PIN);
      const fixed =
        pinned >= 0
          ? (guess.ticks[pinned] ?? 0) - (pin[pinned] ?? 0)
          : anchor >= 0
            ? guess.ticks[anchor]
            : undefined;
      const known = Array.from({ length: n }, (_, i) => i).filter(i => guess.ticks[i] !== NO_PIN);
      const [barring] = barringsOf(guess.parts, {
        ticks: Int32Array.from(known, i => guess.ticks[i] ?? 0),
        velocity: known.map(i => clean.events[i]?.velocity ?? 64),
        period: lag === undefined ? 0 : periodOf(guess.ticks, lag),
        ...(fixed === undefined ? {} : { fixed }),
        ...(hints.metre === undefined ? {} : { only: hints.metre }),
      });
      if (barring === undefined) continue;
      chosen.push(beatOf(guess, at, barring, fromAverage));
      if (chosen.length >= most) break;
    }
    return chosen;
  };
  return [...choose(averaged, true), ...choose(whole, false)];
};
