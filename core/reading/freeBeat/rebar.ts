import { barLength, type Metre, metre } from '../../foundation/metre.ts';
import type { CleanTake } from '../../take/clean.ts';
import { intAt, itemAt } from '../model/at.ts';
import type { Hints } from '../model/reading.ts';
import type { Candidate } from '../onBeat/onBeat.ts';
import type { Lag } from '../repeats/lag.ts';
import { latticeOf, toTicks } from '../search/lattice.ts';
import { BARLINE } from './constants.ts';
import { periodOf } from './period.ts';

/**
 * The metre and the barline of a rhythm that was found without a click. While beats are sought a rough
 * price tells them apart (`barlines.ts`); here, once the rhythm is known, everything that speaks for a
 * metre is weighed: how many bars the idea lasts, an upbeat, what is long or loud, where it ends.
 */
interface Heard {
  /** Places in ticks, rising. */
  readonly ticks: Int32Array;
  /** Loudness of each: standard deviations above the mean. */
  readonly loud: readonly number[];
  /** How much longer each is than the mean, in doublings of a beat. */
  readonly long: readonly number[];
  /** Ticks after which the idea comes again, or 0. */
  readonly period: number;
  /** Ticks of a beat. */
  readonly beat: number;
}

const METRES: Readonly<Record<2 | 3, readonly (readonly [metre: Metre, cost: number])[]>> = {
  2: [
    [metre(4, 4), 0],
    [metre(3, 4), BARLINE.three],
    [metre(2, 4), BARLINE.two],
    [metre(5, 4), BARLINE.five],
  ],
  3: [
    [metre(6, 8), 0],
    [metre(12, 8), BARLINE.twelve],
    [metre(9, 8), BARLINE.nine],
  ],
};

/** The likeliest metre and barline; the candidate itself where the teacher said which, or no metre is known for its beats. */
export const rebarred = (c: Candidate, clean: CleanTake, hints: Hints, lag: Lag | undefined): Candidate => {
  const cell = c.beat.lattice.cells[0];
  const said = hints.firstBeatStrike !== undefined || (hints.pins ?? []).length > 0;
  if (cell === undefined || said || c.found.forced === true) return c;
  const heard = heardIn(c, clean, cell.length, lag);
  const first = Math.floor(intAt(heard.ticks, 0) / cell.length) * cell.length;
  let best = { cost: Infinity, metre: c.beat.lattice.metre, barline: 0 };
  const metres = hints.metre === undefined ? METRES[cell.parts] : [[hints.metre, 0] as const];
  for (const [m, price] of metres) {
    const bar = toTicks(barLength(m));
    for (let barline = first; barline < first + bar; barline += cell.length) {
      const cost = price + costOfBarline(heard, bar, barline);
      if (cost < best.cost) best = { cost, metre: m, barline };
    }
  }
  return counted(c, best.metre, best.barline);
};

const heardIn = (c: Candidate, clean: CleanTake, beat: number, lag: Lag | undefined): Heard => {
  const { ticks } = c.found;
  const velocity = clean.events.map(e => e.velocity);
  const mean = (of: readonly number[]): number => of.reduce((s, v) => s + v, 0) / of.length;
  const usual = mean(velocity);
  const spread = Math.sqrt(mean(velocity.map(v => (v - usual) ** 2))) || 1;
  const long = Array.from(ticks, (t, i) =>
    Math.min(1.5, Math.log2(1 + Math.max(0, (ticks[i + 1] ?? t + beat) - t) / beat)),
  );
  const usualLong = mean(long);
  return {
    ticks,
    loud: velocity.map(v => (v - usual) / spread),
    long: long.map(l => l - usualLong),
    period: lag === undefined ? (c.period ?? 0) * c.beat.lattice.bar : periodOf(ticks, lag),
    beat,
  };
};

const costOfBarline = ({ ticks, loud, long, period, beat }: Heard, bar: number, barline: number): number => {
  const p = BARLINE;
  const inBar = (t: number): number => (((t - barline) % bar) + bar) % bar;
  const first = intAt(ticks, 0);
  const last = intAt(ticks, ticks.length - 1);
  const times = period > 0 ? Math.max(1, (last - first) / period) : 1;
  const bars = Math.max(1, (last - first) / bar);
  const lead = (((barline - first) % bar) + bar) % bar;
  let cost = 0;
  if (period > 0 && period % bar !== 0) cost += p.brokenPeriod;
  if (period > 0 && period % bar === 0) {
    if (![1, 2, 4, 8].includes(period / bar)) cost += p.oddPeriod;
    if (period === bar) cost += p.oneBar;
  }
  if (lead > 0) cost += p.upbeat + (p.upbeatBeat * lead) / beat + (lead > bar / 2 ? p.lateStart : 0);
  let struck = 0;
  ticks.forEach((t, i) => {
    const place = inBar(t);
    if (place === 0) {
      struck++;
      cost += p.loudBar * itemAt(loud, i) + (p.longBar * itemAt(long, i)) / times;
    } else if (2 * place === bar) {
      cost += p.loudHalf * itemAt(loud, i) + (p.struckHalf + p.longHalf * itemAt(long, i)) / times;
    }
  });
  cost += (p.struckBar * (struck - bars)) / times + (p.struckShare * struck) / bars;
  return inBar(last) === 0 ? cost + p.endsOnBar : cost;
};

/** The same places counted from another barline: from the next where the first strike is a short upbeat to it. */
const counted = (c: Candidate, m: Metre, barline: number): Candidate => {
  const bar = toTicks(barLength(m));
  const first = intAt(c.found.ticks, 0);
  const lead = (((barline - first) % bar) + bar) % bar;
  const zero = lead <= bar / 2 ? first + lead : first + lead - bar;
  const { map, lattice } = c.beat;
  const { period: bars, ...rest } = c;
  const period = ((bars ?? 0) * lattice.bar) / bar;
  return {
    ...rest,
    ...(period > 0 && Number.isInteger(period) ? { period } : {}),
    found: { ...c.found, ticks: c.found.ticks.map(t => t - zero) },
    row: { ...c.row, start: c.row.start.map(t => t - zero) },
    beat: { ...c.beat, lattice: latticeOf(m), map: { ...map, zero: map.zero + zero / map.step } },
  };
};
