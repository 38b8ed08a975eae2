import { itemAt, intAt } from '../model/at.ts';
import { type Metre, metre } from '../../foundation/metre.ts';
import { TICKS } from '../search/lattice.ts';
import { LONG_ACCENT, LOUD_ACCENT, STRUCK_ACCENT, UPBEAT_BEAT, UPBEAT, BROKEN_PERIOD } from './constants.ts';

/** A metre with its barline, and what it costs. */
export interface Barring {
  readonly metre: Metre;
  /** Tick of a barline among the given ticks. */
  readonly barline: number;
  readonly cost: number;
}

/** Metres tried for beats that divide in two and in three, with their cost in nats. */
const METRES: Readonly<Record<2 | 3, readonly { readonly metre: Metre; readonly cost: number }[]>> = {
  2: [
    { metre: metre(4, 4), cost: 0 },
    { metre: metre(3, 4), cost: 1 },
    { metre: metre(2, 4), cost: 1.4 },
    { metre: metre(5, 4), cost: 4 },
  ],
  3: [
    { metre: metre(6, 8), cost: 0 },
    { metre: metre(12, 8), cost: 1.5 },
    { metre: metre(9, 8), cost: 1.5 },
  ],
};

export interface Accents {
  /** Places in ticks, rising. */
  readonly ticks: Int32Array;
  readonly velocity: readonly number[];
  /** Ticks after which the idea comes again, or 0. */
  readonly period: number;
  /** Tick that must be a barline, if the teacher said so. */
  readonly fixed?: number;
  /** The only metre allowed, if the teacher said so. */
  readonly only?: Metre;
}

/**
 * Metres and barlines for written places, cheapest first.
 * @returns cheapest first, never empty; barlines in ticks, costs in nats
 * @example barringsOf(3, { ticks: Int32Array.of(0, 72, 144), velocity: [90, 70, 90], period: 0, only: metre(6, 8) })[0]?.barline // => 0
 */
export const barringsOf = (parts: 2 | 3, accents: Accents): Barring[] => {
  const { ticks, velocity } = accents;
  const n = ticks.length;
  const first = intAt(ticks, 0);
  const beat = parts === 2 ? TICKS / 4 : (TICKS * 3) / 8;
  const loud = velocity.reduce((s, v) => s + v, 0) / Math.max(1, n);
  const loudSpread = Math.sqrt(velocity.reduce((s, v) => s + (v - loud) ** 2, 0) / Math.max(1, n)) || 1;
  // Pins that cross put a strike before the one struck earlier: it is followed by no gap, not by a negative one.
  const gaps = Array.from(ticks, (t, i) => Math.max(0, (ticks[i + 1] ?? t + beat) - t));
  const choices = accents.only === undefined ? METRES[parts] : [{ metre: accents.only, cost: 0 }];
  const out: Barring[] = [];
  for (const choice of choices) {
    const bar = (TICKS * choice.metre.upper) / choice.metre.lower;
    const phases = accents.fixed === undefined ? bar / beat : 1;
    for (let p = 0; p < phases; p++) {
      const barline = accents.fixed ?? Math.floor(first / beat) * beat + p * beat;
      let cost = choice.cost + Math.log(phases);
      if (accents.period > 0 && accents.period % bar !== 0) cost += BROKEN_PERIOD;
      let gain = 0;
      for (let i = 0; i < n; i++) {
        const place = (((intAt(ticks, i) - barline) % bar) + bar) % bar;
        const strength = place === 0 ? 1 : place * 2 === bar ? 0.55 : place % beat === 0 ? 0.25 : 0;
        const longer = Math.min(1.5, Math.log2(1 + itemAt(gaps, i) / beat));
        gain +=
          strength *
          (STRUCK_ACCENT +
            LONG_ACCENT * longer +
            (LOUD_ACCENT * ((velocity[i] ?? loud) - loud)) / loudSpread);
      }
      // Longer bars have fewer strong places: count what chance would give.
      const chance = choice.metre.upper === 1 ? 0 : n * (beat / bar) * 0.55;
      cost -= gain - chance;
      const lead = (((barline - first) % bar) + bar) % bar;
      if (lead > 0) cost += UPBEAT + (UPBEAT_BEAT * Math.min(lead, bar)) / beat;
      out.push({ metre: choice.metre, barline, cost });
    }
  }
  return out.sort((x, y) => x.cost - y.cost);
};
