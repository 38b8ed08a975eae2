import { toNumber } from '../../foundation/fraction.ts';
import { beatStarts, groupingsOf, type Metre, sameMetre } from '../../foundation/metre.ts';
import type { CleanTake } from '../../take/clean.ts';
import { itemAt } from '../model/at.ts';
import { TICKS } from '../search/lattice.ts';
import { ticksAt, type TimeMap } from '../search/timeMap.ts';
import { LONG_ACCENT, LOUD_ACCENT, OTHER_GROUPING, STRUCK_ACCENT } from './constants.ts';

/**
 * How the bars of a five or a seven are grouped, heard from what falls where groups begin: struck, long, loud.
 * All groupings have as many groups, so they compare. A metre with one grouping is itself.
 * @param m with the grouping it has unless another is heard
 * @param map where its pulses fall
 * @example groupingHeard(metre(4, 4), { beats: Float64Array.of(0, 1), step: 48, zero: 0 }, { events: [], dropped: [], graces: new Map(), rolls: new Map(), lines: new Map() }) // => metre(4, 4)
 */
export const groupingHeard = (m: Metre, map: TimeMap, clean: CleanTake): Metre => {
  const groupings = m.groups === undefined ? [m] : groupingsOf(m);
  const [first] = groupings;
  if (first === undefined || groupings.length < 2) return m;
  const accents = accentsByPulse(m, map, clean);
  const gainOf = (grouped: Metre): number => {
    const starts = beatStarts(grouped).map(start => Math.round(toNumber(start) * m.lower));
    const heard = accents.reduce((sum, bar) => sum + starts.reduce((so, p) => so + (bar[p] ?? 0), 0), 0);
    return heard - (sameMetre(grouped, m) ? 0 : OTHER_GROUPING);
  };
  return groupings.reduce((best, g) => (gainOf(g) > gainOf(best) ? g : best), m);
};

/** Of each bar something is struck in, what speaks for an accent on each of its pulses; undefined for silence. */
const accentsByPulse = (m: Metre, map: TimeMap, clean: CleanTake): readonly (number | undefined)[][] => {
  const pulse = TICKS / m.lower;
  const { events } = clean;
  const loud = events.reduce((sum, e) => sum + e.velocity, 0) / Math.max(1, events.length);
  const spread =
    Math.sqrt(events.reduce((sum, e) => sum + (e.velocity - loud) ** 2, 0) / Math.max(1, events.length)) || 1;
  // Rounded to half a pulse: near enough to tell pulses from what lies between.
  const halves = events.map(e => Math.round((2 * ticksAt(map, e.at)) / pulse));
  const bars = new Map<number, (number | undefined)[]>();
  events.forEach((event, i) => {
    const at = itemAt(halves, i);
    const index = Math.floor(at / (2 * m.upper));
    const bar = bars.get(index) ?? Array.from({ length: m.upper }, () => undefined);
    bars.set(index, bar);
    if (at % 2 !== 0) return;
    const gap = Math.max(0, ((halves[i + 1] ?? at + 2) - at) / 2);
    bar[at / 2 - index * m.upper] =
      STRUCK_ACCENT +
      LONG_ACCENT * Math.min(1.5, Math.log2(1 + gap)) +
      (LOUD_ACCENT * (event.velocity - loud)) / spread;
  });
  return [...bars.values()];
};
