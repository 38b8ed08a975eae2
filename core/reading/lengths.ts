import type { Lattice } from './lattice.ts';

/**
 * Written lengths for struck bars. A struck bar says when it starts, hardly when it stops, so a note
 * is written as long as its gap when one or two plain values fill it, else up to a beat, then rests.
 */
export const lengthsOf = (onsets: readonly number[], lattice: Lattice, letRing: boolean): number[] => {
  const lastBar = lattice.bar;
  return onsets.map((at, i) => {
    const next = onsets[i + 1];
    const inBar = ((at % lastBar) + lastBar) % lastBar;
    const cell = [...lattice.cells].reverse().find(c => c.start <= inBar) ?? { start: 0, length: lastBar };
    const toBeat = cell.start + cell.length - inBar;
    if (next === undefined) return toBeat;
    const gap = next - at;
    if (letRing || gap <= 2 * cell.length) return gap;
    return toBeat >= cell.length / 2 ? toBeat : toBeat + cell.length;
  });
};
