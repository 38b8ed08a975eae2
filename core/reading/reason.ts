import { type Metre, showMetre } from '../foundation/metre.ts';
import type { Found } from './clickReader.ts';
import type { Lattice } from './lattice.ts';

/**
 * One line a teacher understands: what sets this reading apart. For the best it says what it found;
 * for the others where they differ from the best.
 */
export const reasonOf = (
  found: Found,
  lattice: Lattice,
  best: Found,
  bestMetre: Metre,
  bestTempo: number,
  tempo: number,
): string => {
  const says: string[] = [];
  const m = lattice.metre;
  if (found !== best && showMetre(m) !== showMetre(bestMetre)) says.push(`in ${showMetre(m)}`);
  if (found !== best && tempo > 1.6 * bestTempo) says.push('twice as fast a beat');
  if (found !== best && tempo < bestTempo / 1.6) says.push('half as fast a beat');
  if (found.swing.ratio !== 1) says.push(found.swing.of === 'half' ? 'swung quavers' : 'swung semiquavers');
  else if (found !== best && best.swing.ratio !== 1) says.push('straight, not swung');
  const threes = tripletsIn(found, lattice);
  if (threes.length > 0)
    says.push(`${threes.length === 1 ? 'a triplet' : 'triplets'} in bar ${barList(threes)}`);
  if (found === best) {
    if (says.length === 0) says.push(finestOf(found));
  } else {
    const moved = [...found.ticks].flatMap((t, i) =>
      t === best.ticks[i] ? [] : [Math.floor(t / lattice.bar) + 1],
    );
    if (says.length === 0 || (moved.length > 0 && moved.length <= 2)) {
      const bars = [...new Set(moved)];
      says.push(
        moved.length === 1
          ? `one note elsewhere in bar ${barList(bars)}`
          : `${String(moved.length)} notes elsewhere in bar ${barList(bars)}`,
      );
    }
  }
  return says.join(', ');
};

const barList = (bars: readonly number[]): string => {
  const shown = [...new Set(bars)].map(b => (b < 1 ? 'upbeat' : String(b)));
  return shown.length > 3 ? `${shown.slice(0, 3).join(', ')} and on` : shown.join(' and ');
};

/** Bars (from 1) that hold places on thirds of a beat that divides in two. */
const tripletsIn = (found: Found, lattice: Lattice): number[] => {
  const bars = new Set<number>();
  for (const t of found.ticks) {
    const bar = Math.floor(t / lattice.bar);
    const inBar = t - bar * lattice.bar;
    for (const cell of lattice.cells) {
      if (
        cell.parts === 2 &&
        inBar > cell.start &&
        inBar < cell.start + cell.length &&
        ((inBar - cell.start) * 8) % cell.length !== 0
      )
        bars.add(bar + 1);
    }
  }
  return [...bars];
};

const NAMES: readonly (readonly [number, string])[] = [
  [192, 'semibreves'],
  [96, 'minims'],
  [48, 'crotchets'],
  [24, 'quavers'],
  [12, 'semiquavers'],
  [6, 'demisemiquavers'],
];

const finestOf = (found: Found): string => {
  const name = NAMES.find(([ticks]) => found.ticks.every(t => t % ticks === 0))?.[1] ?? 'short values';
  return `${name} and longer`;
};
