import type { Strike } from '../../take/take.ts';
import { type CleanTake, cleanTake, leadingNotes } from '../../take/clean.ts';
import { quickStrokes } from '../../take/quickStrokes.ts';
import { intAt, realAt } from '../model/at.ts';
import { evidenceOf } from '../onBeat/evidence.ts';
import {
  cellRowFor,
  type Placement,
  placeOnBeat,
  PLAYERS_ON_FITTED_BEAT,
  PLAYERS_TO_A_CLICK,
} from '../onBeat/placeOnBeat.ts';
import { placeAnywhere } from '../onBeat/placeSomehow.ts';
import { MARGIN } from '../onBeat/constants.ts';
import { glissandoOf, onBeatOf } from '../onBeat/quick.ts';
import { LEADING } from '../repeats/constants.ts';
import { swingsOf } from '../rhythm/swings.ts';
import { vocabulariesOf } from '../rhythm/vocabularies.ts';
import { NO_PIN } from '../search/cells.ts';
import { secondsAt } from '../search/timeMap.ts';
import { takeOfStrikes } from './beatInStrikes.ts';
import { SHOWN } from './constants.ts';
import type { WrittenBeat, WrittenMoment } from './soFar.ts';
import type { ReadWindow } from './window.ts';
import { writtenLine, writtenRoll } from './writtenRoll.ts';

/** What the last bars were read as. */
export interface WindowRead {
  readonly clean: CleanTake;
  readonly placement: Placement;
}

const nameOf = (struck: { readonly at: number; readonly pitch: number }): string =>
  `${String(struck.at)}:${String(struck.pitch)}`;

/**
 * The last bars read anew. What was shown of them keeps its position unless it is clearly wrong.
 * @param strikes in order of time, lateness taken off
 * @param shown what was shown so far
 * @returns undefined where nothing was struck in them
 */
export const readWindow = (
  window: ReadWindow,
  beat: WrittenBeat,
  strikes: readonly Strike[],
  shown: readonly WrittenMoment[],
): WindowRead | undefined => {
  const take = takeOfStrikes(strikes);
  const within = (clean: CleanTake): CleanTake => ({
    ...clean,
    events: clean.events.filter(e => e.strikes.every(s => (strikes[s]?.at ?? -Infinity) > window.after)),
  });
  const quick = onBeatOf(quickStrokes(take), take, window.map);
  const clean = within(cleanTake(take, undefined, undefined, undefined, quick));
  if (clean.events.length === 0) return undefined;
  const stands = new Map(shown.flatMap(m => m.struck.map(s => [nameOf(s), m.tick] as const)));
  const read = (of: CleanTake): WindowRead => ({
    clean: of,
    placement: place(window, beat, strikes, of, stands),
  });
  const asNotes = read(clean);
  const leading = leadingNotes(take, clean);
  if (leading.size === 0) return asNotes;
  const asGraces = read(within(cleanTake(take, undefined, undefined, leading, quick)));
  const price = LEADING.habit + LEADING.each * [...leading.values()].flat().length;
  return asGraces.placement.cost + price < asNotes.placement.cost ? asGraces : asNotes;
};

const place = (
  window: ReadWindow,
  beat: WrittenBeat,
  strikes: readonly Strike[],
  clean: CleanTake,
  stands: ReadonlyMap<string, number>,
): Placement => {
  const { lattice, map, from } = window;
  const known = Int32Array.from(clean.events, event => {
    for (const s of event.strikes) {
      const strike = strikes[s];
      const tick = strike === undefined ? undefined : stands.get(nameOf(strike));
      if (tick !== undefined) return tick;
    }
    return NO_PIN;
  });
  const n = clean.events.length;
  const evidence = {
    ...evidenceOf(clean, {}),
    page: {
      stands: known,
      follows: new Int32Array(n).fill(NO_PIN),
      leaves: new Float64Array(n).fill(SHOWN),
    },
  };
  const isHeld = window.held.length > 0;
  // Nothing is written into what is held.
  const first = isHeld ? secondsAt(map, from) + MARGIN + 1e-6 : realAt(evidence.at, 0);
  const row = cellRowFor(lattice, map, first, Math.max(first, realAt(evidence.at, n - 1)));
  const isFound = beat.click === undefined;
  const usual = isFound ? PLAYERS_ON_FITTED_BEAT : PLAYERS_TO_A_CLICK;
  // How a player swings is told by the first window; it is not changed while it is played on.
  const players = isHeld ? { ...usual, swing: beat.swing } : usual;
  const vocabularies = vocabulariesOf('automatic', isFound);
  const [best] = placeOnBeat(row, evidence, vocabularies, swingsOf('medium'), 1, players);
  return best ?? placeAnywhere(row, evidence, map, 'automatic');
};

/** What was read, as moments in order. */
export const momentsOfRead = (
  { clean, placement }: WindowRead,
  strikes: readonly Strike[],
): readonly WrittenMoment[] =>
  clean.events.map((event, i) => ({
    tick: intAt(placement.ticks, i),
    struck: event.strikes.flatMap(s => {
      const strike = strikes[s];
      const before = (clean.graces.get(s) ?? []).flatMap(g => strikes[g]?.pitch ?? []);
      if (strike === undefined) return [];
      const { at, pitch } = strike;
      const sign = {
        ...writtenRoll(clean.rolls.get(s), strikes),
        ...writtenLine(glissandoOf(clean.lines.get(s), strikes), strikes),
      };
      return [{ at, pitch, ...(before.length === 0 ? {} : { graces: before }), ...sign }];
    }),
  }));
