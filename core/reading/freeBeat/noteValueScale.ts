import { intAt } from '../model/at.ts';
import type { Candidate } from '../onBeat/onBeat.ts';

/**
 * The same rhythm in values twice or half as long is the same rhythm: what a whole reading shows about it
 * must not decide which of them is written. That is left to the tempo people count at and to the prices of
 * patterns, else notes would drift into longer values, in which everything falls on a beat.
 */

/** Gaps in units of the largest power of two that divides them all; beats of two and of three kept apart. */
const rhythmOf = (c: Candidate): string => {
  const { ticks } = c.found;
  const origin = intAt(ticks, 0);
  let bits = 0;
  for (const t of ticks) bits |= t - origin;
  const unit = bits === 0 ? 1 : bits & -bits;
  const parts = c.beat.lattice.cells[0]?.parts ?? 2;
  return `${String(parts)}:${Array.from(ticks, t => (t - origin) / unit).join()}`;
};

/**
 * Candidates with what their whole shows added: each rhythm gets the least that any of its spellings costs
 * altogether, and its spellings keep their distance from each other.
 */
export const weighedByRhythm = (
  candidates: readonly Candidate[],
  whole: (c: Candidate) => number,
): Candidate[] => {
  const least = new Map<string, { alone: number; altogether: number }>();
  const names = candidates.map(rhythmOf);
  candidates.forEach((c, i) => {
    const name = names[i] ?? '';
    const known = least.get(name);
    const altogether = c.cost + whole(c);
    least.set(name, {
      alone: Math.min(known?.alone ?? Infinity, c.cost),
      altogether: Math.min(known?.altogether ?? Infinity, altogether),
    });
  });
  return candidates.map((c, i) => {
    const best = least.get(names[i] ?? '');
    return { ...c, cost: c.cost + (best === undefined ? 0 : best.altogether - best.alone) };
  });
};
