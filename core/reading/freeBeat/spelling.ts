import { type Metre, metre, showMetre, tactus } from '../../foundation/metre.ts';
import { intAt, itemAt, realAt } from '../model/at.ts';
import { DIVISIONS, needs, patternOf, type Pattern } from '../rhythm/patterns.ts';
import { pricesOf } from '../rhythm/prior.ts';
import { vocabulariesOf } from '../rhythm/vocabularies.ts';
import { type Cell, latticeOf, TICKS, toTicks } from '../search/lattice.ts';
import { SPELLING, SPELT_BEATS } from './constants.ts';

/**
 * One rhythm, many pages: the same strikes at the same distances can be written in half or double values,
 * in beats that divide in two or in three, in several metres and from any barline. Which of these pages a
 * musician would write is decided here, once the rhythm is known, from everything that speaks for one:
 * the tempo people count at, patterns that are easy to read, how full a bar is, how many bars the idea
 * lasts, whether there is an upbeat, what is loud and what is long, and where it ends.
 */
export interface Rhythm {
  /** Places in ticks, rising. */
  readonly ticks: Int32Array;
  /** Seconds of a tick on average. */
  readonly tick: number;
  /** Ticks after which the idea comes again, or 0. */
  readonly period: number;
  /** Loudness of each strike: standard deviations above the mean. */
  readonly loud: readonly number[];
  /** Which spellings are open. */
  readonly scales: readonly number[];
  readonly metres: readonly Metre[];
  /** Ticks between barlines that are tried in each of these scales, all multiples of it. */
  readonly barlineStep: (scale: number) => number;
  /** A place in ticks that must be on a barline, where the teacher said so. */
  readonly onBarline?: number;
}

export interface Spelling {
  /** By which the rhythm's ticks are multiplied. */
  readonly scale: number;
  readonly metre: Metre;
  /** Tick of a barline, after scaling. */
  readonly barline: number;
  /** Nats. */
  readonly cost: number;
}

/** Metres a take without a click is written in, where the teacher says none; irregular ones only where the idea comes again after whole bars of them. */
export const USUAL_METRES: readonly Metre[] = [
  metre(4, 4),
  metre(2, 2),
  metre(3, 4),
  metre(2, 4),
  metre(5, 4),
  metre(6, 8),
  metre(12, 8),
  metre(9, 8),
  metre(5, 8),
  metre(7, 8),
];

/** Strikes of a rhythm in one scale: what does not depend on metre and barline is worked out once. */
interface Scaled {
  readonly ticks: Int32Array;
  readonly first: number;
  readonly last: number;
  readonly period: number;
  /** How often the idea is played; what each playing shows again counts once. */
  readonly times: number;
  readonly loud: readonly number[];
  /** How much longer each is than the mean, in doublings, cut at ±1.5. */
  readonly long: readonly number[];
}

const scaledBy = (scale: number, { ticks, period, loud }: Rhythm): Scaled | undefined => {
  if (ticks.some(t => !Number.isInteger(t * scale))) return undefined;
  const own = ticks.map(t => t * scale);
  const first = intAt(own, 0);
  const last = intAt(own, own.length - 1);
  const mean = (last - first) / Math.max(1, own.length - 1);
  return {
    ticks: own,
    first,
    last,
    period: period * scale,
    times: period > 0 ? Math.max(1, (last - first) / (period * scale)) : 1,
    loud,
    long: Array.from(own, (t, i) => {
      const next = own[i + 1];
      return next === undefined || next <= t
        ? 0
        : Math.max(-1.5, Math.min(1.5, Math.log2((next - t) / mean)));
    }),
  };
};

/**
 * Every way of writing a rhythm, likeliest first.
 * @returns costs in nats; empty where no beat is of a length that people count
 */
export const spellingsOf = (rhythm: Rhythm): Spelling[] =>
  rhythm.scales
    .flatMap(scale => {
      const scaled = scaledBy(scale, rhythm);
      return scaled === undefined ? [] : spellingsIn(scale, scaled, rhythm);
    })
    .sort((a, b) => a.cost - b.cost);

/** All in one scale: patterns are compared among them, for beats of other lengths hold other patterns. */
const spellingsIn = (scale: number, scaled: Scaled, rhythm: Rhythm): Spelling[] => {
  const prices = new Map<string, number>();
  const ways: (Spelling & { readonly price: number })[] = [];
  for (const m of rhythm.metres) {
    const { bar, cells } = latticeOf(m);
    const [cell] = cells;
    if (cell === undefined) continue;
    const irregular = m.groups !== undefined;
    // Nobody hears seven quavers a bar but from an idea that comes again after them.
    if (irregular && (scaled.period === 0 || scaled.period % bar !== 0)) continue;
    const seconds = (toTicks(tactus(m)) * rhythm.tick) / scale;
    if (seconds < SPELT_BEATS.shortest || seconds > SPELT_BEATS.longest) continue;
    // Slow irregular metres are counted in quavers, quick ones in beats.
    const counted = irregular ? [seconds, ((bar / cells.length) * rhythm.tick) / scale] : [seconds];
    const tempo = Math.min(...counted.map(s => tempoCost(s, cell.parts)));
    const beats = Math.max(1, ((scaled.last - scaled.first) * cells.length) / bar);
    const always = (SPELLING.metres[showMetre(m)] ?? 0) + tempo + fullnessCost(scaled, bar);
    const step = rhythm.barlineStep(scale);
    const from = Math.floor(scaled.first / step) * step;
    for (let barline = from; barline < from + bar; barline += step) {
      if (rhythm.onBarline !== undefined && (rhythm.onBarline * scale - barline) % bar !== 0) continue;
      // Equal beats are the same ones from every barline that falls on one of them.
      const [cycle, name] = irregular ? [bar, showMetre(m)] : [cell.length, String(cell.length)];
      const phase = ((barline % cycle) + cycle) % cycle;
      const key = `${name}:${String(phase)}`;
      const price = prices.get(key) ?? patternsCost(scaled.ticks, phase, cells) / beats;
      prices.set(key, price);
      const cost = always + barlineCost(scaled, bar, cells, barline);
      if (price < Infinity) ways.push({ scale, metre: m, barline, cost, price });
    }
  }
  const least = ways.reduce((l, w) => Math.min(l, w.price), Infinity);
  return ways.map(({ price, ...w }) => ({ ...w, cost: w.cost + SPELLING.patterns * (price - least) }));
};

/** Nats for a beat of so many seconds: people count at a middling tempo. */
const tempoCost = (seconds: number, parts: 2 | 3): number => {
  const { middle, spread } = parts === 2 ? SPELLING.beat : SPELLING.dottedBeat;
  return 0.5 * (Math.log2(seconds / middle) / spread) ** 2;
};

/** Nats for so many strikes a bar: values and metre are chosen so that a bar is neither crowded nor empty. */
const fullnessCost = ({ ticks, first, last }: Scaled, bar: number): number => {
  const { middle, crowded, empty } = SPELLING.strikesInBar;
  const off = Math.log2(ticks.length / Math.max(1, (last - first) / bar) / middle);
  return 0.5 * (off / (off > 0 ? crowded : empty)) ** 2;
};

/** Nats of the patterns of all beats of bars from `origin`; Infinity where a beat cannot be spelt. */
const patternsCost = (ticks: Int32Array, origin: number, cells: readonly Cell[]): number => {
  const beats = beatsOf(ticks, origin, cells);
  if (beats === undefined) return Infinity;
  let best = Infinity;
  for (const v of vocabulariesOf('automatic', true)) {
    const prices = pricesOf(v);
    let cost = v.cost;
    let before = -1;
    for (const { pattern, parts } of beats) {
      const { again, fresh } = parts === 2 ? prices.two : prices.three;
      cost += realAt(pattern === before ? again : fresh, pattern);
      before = pattern;
    }
    best = Math.min(best, cost);
  }
  return best;
};

interface SpeltBeat {
  readonly pattern: Pattern;
  readonly parts: 2 | 3;
}

/** The beats from the first strike's to the last one's. */
const beatsOf = (ticks: Int32Array, origin: number, cells: readonly Cell[]): SpeltBeat[] | undefined => {
  const bar = cells.reduce((sum, c) => sum + c.length, 0);
  const last = intAt(ticks, ticks.length - 1);
  const beats: SpeltBeat[] = [];
  let i = 0;
  for (let from = origin + Math.floor((intAt(ticks, 0) - origin) / bar) * bar; from <= last; from += bar) {
    for (const { start, length, parts } of cells) {
      const begin = i;
      while (i < ticks.length && intAt(ticks, i) < from + start + length) i++;
      // Silence before the first strike and after the last says nothing of the beats.
      if (i === 0 || from + start > last) continue;
      const pattern = patternOfBeat(ticks.subarray(begin, i), from + start, length);
      if (pattern === undefined) return undefined;
      beats.push({ pattern, parts });
    }
  }
  return beats;
};

const patternOfBeat = (inside: Int32Array, start: number, beat: number): Pattern | undefined => {
  for (const d of DIVISIONS) {
    const slot = beat / d;
    if (inside.some(t => (t - start) % slot !== 0)) continue;
    const mask = inside.reduce((struck, t) => struck | (1 << ((t - start) / slot)), 0);
    if (needs(d, mask)) return patternOf(d, mask);
  }
  return undefined;
};

/** Nats of one barline: bars the idea lasts, the upbeat, what is loud and long, what is silent, the end. */
const barlineCost = (s: Scaled, bar: number, cells: readonly Cell[], barline: number): number => {
  const p = SPELLING;
  const { ticks, first, last, period, times } = s;
  const beat = bar / cells.length;
  let cost = 0;
  if (period > 0) {
    const bars = period / bar;
    if (!Number.isInteger(bars)) cost += p.brokenPeriod;
    else if (bars === 1) cost += p.oneBar;
    else if (![2, 4, 8].includes(bars)) cost += p.oddPeriod;
  }
  const lead = (((barline - first) % bar) + bar) % bar;
  if (lead > 0) cost += p.upbeat + (p.upbeatBeat * lead) / beat;
  let struck = 0;
  let loudness = 0;
  for (let i = 0; i < ticks.length; i++) {
    const inBar = (((intAt(ticks, i) - barline) % bar) + bar) % bar;
    const onBar = inBar === 0;
    const onBeat = cells.some(c => c.start === inBar);
    const expected = onBar ? p.loud.bar : onBeat ? p.loud.beat : p.loud.elsewhere;
    // How much likelier this loudness is here than anywhere, were it normally distributed.
    loudness += expected * (expected / 2 - itemAt(s.loud, i));
    if (onBeat) cost += (p.longBeat * itemAt(s.long, i)) / times;
    if (onBar) struck++;
  }
  const bars = Math.floor((last - barline) / bar) - Math.ceil((first - barline) / bar) + 1;
  // What is loud by chance is not in every playing, what is loud by habit is: half way between.
  cost += loudness / Math.sqrt(times) + (p.silentBar * (bars - struck)) / times;
  return (last - barline) % bar === 0 ? cost + p.endsOnBar : cost;
};

/** Half a crotchet: barlines are tried at each of them. */
export const BARLINE_STEP = TICKS / 8;
