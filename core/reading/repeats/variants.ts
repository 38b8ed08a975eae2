import { realAt } from '../model/at.ts';
import { median } from '../../foundation/statistics.ts';
import { VARIANT_SPREADS, VARIANT_SHARE, MIDDLE_HALF } from './constants.ts';
import { chainsOf } from './chains.ts';

/**
 * Pairings between repeats, cut where one note is played at two places: a varied repeat stays varied.
 * Averaging both would put the note where it was never struck.
 * @param next for every event the event one period later that repeats it, or -1
 * @param places of the events, in ticks, not rounded
 * @param held whether the teacher placed an event: its repeats follow it
 * @param period and beat in ticks
 * @example cutVariants(Int32Array.of(1, -1), Float64Array.of(0, 192), 192, 48, () => false) // => Int32Array.of(1, -1)
 */
export const cutVariants = (
  next: Int32Array,
  places: Float64Array,
  period: number,
  beat: number,
  held: (event: number) => boolean,
): Int32Array => {
  const out = Int32Array.from(next);
  const chains = chainsOf(next)
    .filter(chain => chain.length > 1)
    .map(chain => chain.map((event, k) => ({ event, place: realAt(places, event) - k * period })));
  const off = chains.flatMap(chain => {
    const middle = median(chain.map(m => m.place));
    return chain.length < 3 ? [] : chain.map(m => Math.abs(m.place - middle));
  });
  if (off.length === 0) return out;
  const apart = Math.max((VARIANT_SPREADS * median(off)) / MIDDLE_HALF, VARIANT_SHARE * beat);
  for (const chain of chains) {
    if (chain.some(m => held(m.event))) continue;
    const sorted = chain.map(m => m.place).sort((a, b) => a - b);
    // Places of one note lie in a heap; a wide gap parts two heaps.
    const gaps = sorted
      .slice(1)
      .map((p, i) => ({ gap: p - (sorted[i] ?? p), middle: (p + (sorted[i] ?? p)) / 2 }));
    const widest = gaps.reduce((so, g) => (g.gap > so.gap ? g : so), { gap: 0, middle: 0 });
    if (widest.gap < apart) continue;
    chain.forEach((m, r) => {
      const later = chain[r + 1];
      if (later !== undefined && m.place < widest.middle !== later.place < widest.middle) out[m.event] = -1;
    });
  }
  return out;
};
