import type { CleanTake } from '../../take/clean.ts';
import { realAt } from '../model/at.ts';
import type { Hints } from '../model/reading.ts';
import { toTicks } from '../search/lattice.ts';
import { type Evidence, NO_PIN } from '../search/cells.ts';
import { secondsAt, type TimeMap } from '../search/timeMap.ts';
import { ERRED } from './constants.ts';

/** Each event seen once. */
const single = (at: Float64Array, pin: Int32Array): Evidence => ({
  events: at.length,
  from: Int32Array.from({ length: at.length + 1 }, (_, i) => i),
  at,
  shift: new Int32Array(at.length),
  pin,
});

/**
 * What was struck, each event seen once: seconds, and the pins in ticks.
 */
export const evidenceOf = (clean: CleanTake, hints: Hints): Evidence => {
  const pin = new Int32Array(clean.events.length).fill(NO_PIN);
  const place = new Map((hints.pins ?? []).map(p => [p.strike, toTicks(p.onset)]));
  clean.events.forEach((e, i) => {
    for (const s of e.strikes) pin[i] = place.get(s) ?? pin[i] ?? NO_PIN;
  });
  return single(
    Float64Array.from(clean.events, e => e.at),
    pin,
  );
};

/**
 * Evidence that obeys the pins: a strike put far from where it fell counts as if it had fallen there,
 * so that everything else is read as well as before. A pin that crosses a neighbour is left to the
 * search.
 */
export const obeying = (evidence: Evidence, map: TimeMap): Evidence => {
  if (!evidence.pin.some(p => p !== NO_PIN)) return evidence;
  const at = evidence.at.slice();
  evidence.pin.forEach((pin, i) => {
    if (pin === NO_PIN) return;
    const wanted = secondsAt(map, pin);
    const between = (at[i - 1] ?? -Infinity) < wanted && wanted < (evidence.at[i + 1] ?? Infinity);
    if (between && Math.abs(wanted - realAt(evidence.at, i)) > ERRED) at[i] = wanted;
  });
  return { ...evidence, at };
};
