import { type Metre, metreInWords } from '../../foundation/metre.ts';
import type { Placement } from '../onBeat/placeOnBeat.ts';
import type { Lattice } from '../search/lattice.ts';

/**
 * One line a teacher understands: what sets this reading apart. For the best it says what it found;
 * for the others where they differ from the best.
 */
export const reasonOf = (
  found: Placement,
  lattice: Lattice,
  best: Placement,
  bestMetre: Metre,
  bestTempo: number,
  tempo: number,
): string => {
  const says: string[] = [];
  const m = lattice.metre;
  if (found !== best && metreInWords(m) !== metreInWords(bestMetre)) says.push(`in ${metreInWords(m)}`);
  if (found !== best && tempo > 1.6 * bestTempo) says.push('twice as fast a beat');
  if (found !== best && tempo < bestTempo / 1.6) says.push('half as fast a beat');
  const swings = found.swing.ratio !== 1;
  if (swings && (found === best || best.swing.ratio === 1))
    says.push(found.swing.of === 'half' ? 'swung quavers' : 'swung semiquavers');
  else if (!swings && found !== best && best.swing.ratio !== 1) says.push('straight, not swung');
  const usual = new Set(found === best ? [] : tripletsIn(best, lattice).map(told));
  const triplets = tripletsIn(found, lattice).filter(t => !usual.has(told(t)));
  const threes = [...new Set(triplets.map(t => t.bar))];
  if (triplets.length > 0) {
    const beats = [...new Set(triplets.map(t => t.beat))];
    // Where several readings differ by one triplet each, the beat tells them apart.
    const where = found !== best && beats.length === 1 ? `on beat ${String(beats[0])} of` : 'in';
    says.push(`${triplets.length === 1 ? 'a triplet' : 'triplets'} ${where} ${barList(threes)}`);
  }
  if (found === best) {
    if (says.length === 0) says.push(finestOf(found));
  } else {
    const moved = [...found.ticks].flatMap((t, i) =>
      t === best.ticks[i] ? [] : [Math.floor(t / lattice.bar) + 1],
    );
    const bars = [...new Set(moved)].filter(bar => !threes.includes(bar));
    if (says.length === 0 || (bars.length > 0 && moved.length <= 2))
      says.push(
        `${moved.length === 1 ? 'one note' : `${String(moved.length)} notes`} elsewhere in ${barList(bars)}`,
      );
  }
  return says.join(', ');
};

const barList = (bars: readonly number[]): string => {
  const all = [...new Set(bars)].sort((a, b) => a - b);
  const numbers = all.filter(b => b >= 1).map(String);
  const said =
    numbers.length > 3
      ? `${numbers.slice(0, 3).join(', ')} and on`
      : numbers.length === 3
        ? `${numbers.slice(0, 2).join(', ')} and ${numbers[2] ?? ''}`
        : numbers.join(' and ');
  const full = numbers.length === 0 ? '' : `${numbers.length === 1 ? 'bar' : 'bars'} ${said}`;
  return [...(all.some(b => b < 1) ? ['the upbeat'] : []), ...(full === '' ? [] : [full])].join(' and ');
};

interface TripletPlace {
  readonly bar: number;
  readonly beat: number;
}
const told = (t: TripletPlace): string => `${String(t.bar)}:${String(t.beat)}`;

/** Beats (bar and beat from 1) that divide in two and hold places on their thirds. */
const tripletsIn = (found: Placement, lattice: Lattice): TripletPlace[] => {
  const places = new Map<string, TripletPlace>();
  for (const t of found.ticks) {
    const bar = Math.floor(t / lattice.bar);
    const inBar = t - bar * lattice.bar;
    lattice.cells.forEach((cell, i) => {
      const inside = cell.parts === 2 && inBar > cell.start && inBar < cell.start + cell.length;
      if (!inside || ((inBar - cell.start) * 8) % cell.length === 0) return;
      const place = { bar: bar + 1, beat: i + 1 };
      places.set(told(place), place);
    });
  }
  return [...places.values()];
};

const NAMES: readonly (readonly [number, string])[] = [
  [192, 'semibreves'],
  [96, 'minims'],
  [48, 'crotchets'],
  [24, 'quavers'],
  [12, 'semiquavers'],
  [6, 'demisemiquavers'],
];

const finestOf = (found: Placement): string => {
  const name = NAMES.find(([ticks]) => found.ticks.every(t => t % ticks === 0))?.[1] ?? 'short values';
  return `${name} and longer`;
};
