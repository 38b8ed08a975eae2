import { itemAt, intAt, realAt } from '../model/at.ts';
import { type Candidate } from '../onBeat/onBeat.ts';

import { ticksAt } from '../search/timeMap.ts';
import { WORTH_SHOWING, MOST_PLACES, NEGLIGIBLE, CONFIDENCE } from './constants.ts';

/** What is doubtful about each event of a reading. */
export interface Doubts {
  /** 0 (sure) to 1: the chance that an event belongs somewhere else. */
  readonly doubt: readonly number[];
  /** Other places in ticks, likeliest first; at least one wherever the doubt is above `WORTH_SHOWING`. */
  readonly elsewhere: readonly (readonly number[])[];
}

/**
 * Every candidate votes with its chance. Where the beat is open, readings are compared as a musician
 * would: the same rhythm after another barline, or in values twice or half as long, agrees.
 */
export const doubtsOf = (c: Candidate, all: readonly Candidate[], chances: readonly number[]): Doubts => {
  const own = c.found.ticks;
  const open = c.beat.open ?? false;
  const same = new Float64Array(own.length);
  const votes = Array.from(own, () => new Map<number, number>());
  all.forEach((other, j) => {
    const chance = itemAt(chances, j);
    if (chance < NEGLIGIBLE) return;
    const { factor, shift } = open ? likeness(own, other.found.ticks) : { factor: 1, shift: 0 };
    other.found.ticks.forEach((theirs, i) => {
      const place = theirs * factor + shift;
      if (place === own[i]) same[i] = realAt(same, i) + chance;
      else if (factor === 1 && Number.isInteger(place))
        votes[i]?.set(place, (votes[i].get(place) ?? 0) + chance);
    });
  });
  const { coverage, greatestConfidence, exponent } = CONFIDENCE.openBeat;
  const doubt = Array.from(same, s => {
    // Where the beat is open a reading may be wrong as a whole and right in most notes.
    const right = open ? greatestConfidence * (s / coverage) ** exponent : s;
    return Math.max(0, Math.min(1, 1 - right));
  });
  const elsewhere = votes.map((places, i) => {
    const floor = own[i - 1] ?? -Infinity;
    const ceiling = own[i + 1] ?? Infinity;
    const voted = [...places]
      .filter(([place, chance]) => chance > 0.01 && place >= floor && place <= ceiling)
      .sort((x, y) => y[1] - x[1] || x[0] - y[0])
      .slice(0, MOST_PLACES)
      .map(([place]) => place);
    return voted.length > 0 || itemAt(doubt, i) <= WORTH_SHOWING ? voted : nearest(c, i);
  });
  return { doubt, elsewhere };
};

/** The factor (1, 2 or 1/2) and shift in ticks under which most of their places are ours. */
const likeness = (ours: Int32Array, theirs: Int32Array): { factor: number; shift: number } => {
  let best = { factor: 1, shift: 0 };
  let most = 0;
  for (const factor of [1, 2, 0.5]) {
    const shifts = new Map<number, number>();
    theirs.forEach((t, i) => {
      const shift = intAt(ours, i) - t * factor;
      const times = (shifts.get(shift) ?? 0) + 1;
      shifts.set(shift, times);
      if (times > most) {
        most = times;
        best = { factor, shift };
      }
    });
  }
  return best;
};

/** The nearest other places on quarters and thirds of the beat, or finer ones, between the neighbours. */
const nearest = (c: Candidate, i: number): number[] => {
  const { ticks } = c.found;
  const own = intAt(ticks, i);
  const from = ticks[i - 1] ?? -Infinity;
  const to = ticks[i + 1] ?? Infinity;
  const cell = c.beat.lattice.cells[0]?.length ?? c.beat.map.step;
  const struck = ticksAt(c.beat.map, realAt(c.evidence.at, i));
  const beat = Math.floor(own / cell) * cell;
  const places = new Set<number>();
  for (const part of [4, 3, 8, 12, 16]) {
    for (let k = -part; k <= 2 * part; k++) {
      const place = beat + (k * cell) / part;
      if (place !== own && place > from && place < to && Number.isInteger(place)) places.add(place);
    }
    if (places.size > 1) break;
  }
  return [...places].sort((a, b) => Math.abs(a - struck) - Math.abs(b - struck) || a - b).slice(0, 2);
};
