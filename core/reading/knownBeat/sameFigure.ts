import { intAt, itemAt } from '../model/at.ts';
import { type Lattice } from '../search/lattice.ts';
import { NO_PIN } from '../search/cells.ts';

/**
 * Where the same figure elsewhere on the page would go, if it followed the notes that were put right.
 * A note's figure is the gap before it, its position in the beat, and the gap after it, as they stood.
 * @param stands ticks of each event on the page, NO_PIN where it has none
 * @param moved ticks of each event after the pins
 * @param pin ticks an event must have, NO_PIN where it is free
 * @returns ticks for each event that has such a figure and stayed, NO_PIN for all others
 * @example followersOf(Int32Array.of(0, 24, 48, 72, 96), Int32Array.of(0, 36, 48, 72, 96), Int32Array.of(NO_PIN, 36, NO_PIN, NO_PIN, NO_PIN), latticeOf(metre(4, 4))) // => Int32Array.of(NO_PIN, NO_PIN, NO_PIN, 84, NO_PIN)
 */
export const followersOf = (
  stands: Int32Array,
  moved: Int32Array,
  pin: Int32Array,
  lattice: Lattice,
): Int32Array => {
  const n = stands.length;
  const figures = Array.from(stands, (_, i) => figureOf(stands, i, lattice));
  const shifts = new Map<string, number>();
  // Only what moved together with a pin in its own beat or next to it tells how the figure goes.
  for (let i = 0; i < n; i++) {
    const by = intAt(moved, i) - intAt(stands, i);
    if (intAt(stands, i) === NO_PIN || by === 0) continue;
    const near = [i - 1, i, i + 1].some(j => j >= 0 && j < n && pin[j] !== NO_PIN);
    if (near) shifts.set(itemAt(figures, i), by);
  }
  return Int32Array.from(stands, (tick, i) => {
    if (tick === NO_PIN || intAt(pin, i) !== NO_PIN || intAt(moved, i) !== tick) return NO_PIN;
    const by = shifts.get(itemAt(figures, i));
    return by === undefined ? NO_PIN : tick + by;
  });
};

const figureOf = (stands: Int32Array, i: number, lattice: Lattice): string => {
  const tick = intAt(stands, i);
  const gap = (a: number, b: number): number =>
    a < 0 || b >= stands.length || stands[a] === NO_PIN || stands[b] === NO_PIN
      ? -1
      : intAt(stands, b) - intAt(stands, a);
  const inBar = ((tick % lattice.bar) + lattice.bar) % lattice.bar;
  const cell = [...lattice.cells].reverse().find(c => c.start <= inBar);
  const inCell = cell === undefined ? inBar : inBar - cell.start;
  return [gap(i - 1, i), cell?.length ?? 0, inCell, gap(i, i + 1)].join();
};
