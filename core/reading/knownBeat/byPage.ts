import { toTicks } from '../search/lattice.ts';
import type { CleanTake, StruckEvent } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import type { Hints, SeenPage } from '../model/reading.ts';
import { NO_PIN } from '../search/cells.ts';

/** A take gathered as the page and the pins say: what they put in one position is struck together. */
export interface ByPage {
  readonly clean: CleanTake;
  /** Ticks at which each event stands on the page, NO_PIN where it has no position there. */
  readonly stands: Int32Array;
}

interface Group {
  readonly event: StruckEvent;
  readonly pin: number;
  readonly stands: number;
}

/**
 * Events in the order and the grouping of the page: a chord of which one note was pinned elsewhere falls
 * apart, notes pinned to one position become a chord, and notes pinned past each other change order.
 * @param beat ticks in a beat
 * @param beatOpen whether the beat was found in the strikes: then a pin far off says that the beat stood
 *   still or was skipped there, and all that comes later goes with it
 */
export const byPage = (
  take: Take,
  clean: CleanTake,
  hints: Hints,
  page: SeenPage,
  beat: number,
  beatOpen: boolean,
): ByPage => {
  const pins = new Map((hints.pins ?? []).map(p => [p.strike, toTicks(p.onset)]));
  const positions = new Map(page.positions.map(p => [p.strike, toTicks(p.onset)]));
  const apart = clean.events.flatMap(event => splitByPosition(take, event, pins, positions));
  const groups = beatOpen ? shiftedAfterFarPins(apart, beat) : apart;
  const merged: Group[] = [];
  for (const group of inOrder(groups)) {
    const last = merged.at(-1);
    if (last !== undefined && targetOf(last) === targetOf(group) && targetOf(group) !== NO_PIN)
      merged[merged.length - 1] = together(take, last, group);
    else merged.push(group);
  }
  return {
    clean: { ...clean, events: merged.map(g => g.event) },
    stands: Int32Array.from(merged, g => g.stands),
  };
};

const targetOf = (g: Group): number => (g.pin === NO_PIN ? g.stands : g.pin);

const splitByPosition = (
  take: Take,
  event: StruckEvent,
  pins: ReadonlyMap<number, number>,
  positions: ReadonlyMap<number, number>,
): Group[] => {
  const parts = new Map<number, number[]>();
  for (const strike of event.strikes) {
    const target = pins.get(strike) ?? positions.get(strike) ?? NO_PIN;
    parts.set(target, [...(parts.get(target) ?? []), strike]);
  }
  return [...parts].map(([, strikes]) => {
    const pin = strikes.map(s => pins.get(s)).find(t => t !== undefined) ?? NO_PIN;
    const stands = strikes.map(s => positions.get(s)).find(t => t !== undefined) ?? NO_PIN;
    return { event: parts.size === 1 ? event : eventOf(take, strikes, event), pin, stands };
  });
};

const eventOf = (take: Take, strikes: readonly number[], like: StruckEvent): StruckEvent => {
  const all = strikes.flatMap(s => take.strikes[s] ?? []);
  return {
    ...like,
    strikes,
    at: all.reduce((sum, s) => sum + s.at, 0) / all.length - take.latency / 1000,
    velocity: Math.max(...all.map(s => s.velocity)),
  };
};

const together = (take: Take, a: Group, b: Group): Group => {
  const pitch = (s: number): number => take.strikes[s]?.pitch ?? 0;
  const strikes = [...a.event.strikes, ...b.event.strikes].sort((x, y) => pitch(x) - pitch(y) || x - y);
  const until = Math.max(a.event.until ?? -Infinity, b.event.until ?? -Infinity);
  const event = {
    ...eventOf(take, strikes, a.event),
    ...(until === -Infinity ? {} : { until }),
  };
  return {
    event,
    pin: a.pin === NO_PIN ? b.pin : a.pin,
    stands: a.stands === NO_PIN ? b.stands : a.stands,
  };
};

/**
 * Where a pin lies a beat or more off, the beat was lost there, not that one note: everything later keeps
 * its distance from it. In the first half it is likelier that the beginning stands wrong than all the rest.
 */
const shiftedAfterFarPins = (groups: readonly Group[], beat: number): readonly Group[] => {
  let shift = 0;
  return groups.map((g, i) => {
    if (g.stands === NO_PIN) return g;
    const stands = g.stands + shift;
    if (g.pin === NO_PIN) return { ...g, stands };
    const by = g.pin - stands;
    if (2 * i >= groups.length && Math.abs(by) >= beat) shift += by;
    return { ...g, stands };
  });
};

/** By position; what has none stays after what was struck before it. */
const inOrder = (groups: readonly Group[]): readonly Group[] => {
  let last = -Infinity;
  const keyed = groups.map((group, i) => {
    const target = targetOf(group);
    if (target !== NO_PIN) last = target;
    return { group, i, key: target === NO_PIN ? last : target };
  });
  return keyed.sort((a, b) => a.key - b.key || a.i - b.i).map(k => k.group);
};
