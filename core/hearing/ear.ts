import type { Hertz, Seconds } from '../foundation/units.ts';
import { type BandOnset, beginningsOf, lookAheadOf } from './bandOnsets.ts';
import { decibels } from './bands.ts';
import type { Blow } from './blow.ts';
import { blowsIn, isSameBlow, isSure, type HeardBefore } from './blows.ts';
import { CONTACT, LIVE } from './constants.ts';
import { type Contact, contactsIn } from './contacts.ts';
import { barOf, otherPitchOf, pitchOf, type StruckBar, tuningOf } from './hear.ts';
import { createSlidingBands } from './slidingBands.ts';
import { createThinner } from './thin.ts';

/** What a piece of sound brought to light. */
export interface HeardLive {
  /** Bars that were struck, told for good, in order of time: `LIVE.settled` seconds after they were struck. */
  readonly struck: readonly StruckBar[];
  /** Bars that seem to be struck just now. A few turn out to be something else: these are for the eye. */
  readonly atOnce: readonly StruckBar[];
}

/** Hears struck bars in sound that goes on. */
export interface Ear {
  /** The next piece of sound, of any length. */
  hear(samples: Float32Array): HeardLive;
  /** What is told of the last moments where no more sound comes. */
  end(): HeardLive;
}

const NOTHING: HeardLive = { struck: [], atOnce: [] };

/** Of a list by time, what is not older. */
const since = <T extends { readonly at: Seconds }>(list: readonly T[], at: Seconds): readonly T[] =>
  (list[0]?.at ?? Infinity) >= at ? list : list.filter(one => one.at >= at);

/**
 * An ear for sound that comes piece by piece. However it is cut, the same sound gives the same strikes: those that
 * `struckBars` gives for the whole, but for what only the whole can tell (how loud the take is, how noisy the room, how
 * the set is tuned), which are taken from the last half minute. Its memory does not grow.
 * @param rate 8 to 96 kHz
 * @example
 * createEar(44100).hear(new Float32Array(44100)).struck // => []
 */
export const createEar = (rate: Hertz): Ear => {
  const thinner = createThinner(rate);
  /** Everything below is timed from the oldest look that is kept. */
  let beginnings: readonly BandOnset[] = [];
  /** Blows that were told for good or found too soft, and those told to the eye. */
  let told: readonly Blow[] = [];
  let shown: readonly Blow[] = [];
  /** Beginnings that were looked at for the eye. */
  let weighed: readonly BandOnset[] = [];
  /** Contacts that were. */
  let touches: readonly Contact[] = [];
  let settledTo: Seconds = 0;
  const sliding = createSlidingBands(thinner.rate, looks => {
    const by = looks * sliding.bands.hop;
    const earlier = <T extends { readonly at: Seconds }>(list: readonly T[]): readonly T[] =>
      list.map(one => ({ ...one, at: one.at - by }));
    const blowsEarlier = (list: readonly Blow[]): readonly Blow[] =>
      earlier(list).map(one => ({ ...one, rose: one.rose - by }));
    [beginnings, weighed] = [earlier(beginnings), earlier(weighed)];
    [told, shown] = [blowsEarlier(told), blowsEarlier(shown)];
    touches = earlier(touches);
    settledTo -= by;
    next = next.map(look => look - looks);
  });
  const { hop, all } = sliding.bands;
  /** Per band, the first look that is not looked at for good. */
  let next = all.map(band => Math.max(sliding.bands.looks, Math.round(LIVE.deaf / hop), band.lag / hop));
  let pitches: readonly number[] = [];
  let waiting = new Float32Array(0);

  /** What begins in every band up to a look that may depend on it, from low to high. */
  const begun = (toOf: (index: number) => number): { found: BandOnset[]; reached: number[] } => {
    const { bands } = sliding;
    const found: BandOnset[] = [];
    const reached = next.map((from, index) => {
      const to = toOf(index);
      if (to <= from) return from;
      const looked = beginningsOf(bands, index, sliding.rises(index), { from, to });
      found.push(...looked.found);
      return looked.next;
    });
    return { found, reached };
  };

  /** The first look at or after a moment that is heard at all. */
  const firstLook = (at: Seconds): number =>
    Math.max(Math.ceil(at / hop), Math.ceil(LIVE.deaf / hop) - sliding.gone);
  const now = (): Seconds => sliding.bands.looks * hop;
  const before = (from: Seconds): HeardBefore => ({
    sure: beginnings.filter(one => one.at < from && isSure(one)).map(one => decibels(one.loudness)),
    blows: told.filter(one => one.at < from),
  });
  const blowsWith = (more: readonly BandOnset[]): ReturnType<typeof blowsIn> => {
    const from = now() - LIVE.lately;
    const lately = [...beginnings.filter(one => one.at >= from), ...more].sort(
      (a, b) => a.band - b.band || a.at - b.at,
    );
    return blowsIn(sliding.bands, lately, contactsIn(sliding.bands, firstLook(from)), before(from));
  };
  const inBars = (blows: readonly Blow[], level: number, remembered: boolean): readonly StruckBar[] => {
    const { bands, gone } = sliding;
    const mine = blows.map(blow => pitchOf(bands, blow));
    const known = [...pitches, ...mine].slice(-LIVE.pitches);
    if (remembered) pitches = known;
    const tuning = tuningOf(known);
    return blows.map((blow, i) => {
      const bar = barOf(blow, mine[i] ?? 0, { level, tuning, other: otherPitchOf(bands, blow) });
      return { ...bar, at: Math.max(0, blow.at + gone * hop) };
    });
  };

  /** Tells for good what began up to a moment. */
  const settle = (to: Seconds, isEnd: boolean): readonly StruckBar[] => {
    const { looks } = sliding.bands;
    const { found, reached } = begun(index => {
      const band = all[index];
      return isEnd || band === undefined ? looks - 3 : looks - lookAheadOf(band, hop);
    });
    next = reached;
    beginnings = since([...beginnings, ...found], now() - LIVE.level);
    const { all: struck, withSoft, level } = blowsWith([]);
    const isNew = (blow: Blow): boolean =>
      blow.at <= to && blow.at > settledTo - LIVE.late && !told.some(one => isSameBlow(one, blow));
    const mine = struck.filter(isNew);
    const passed = withSoft.filter(isNew);
    told = since([...told, ...passed], now() - LIVE.level);
    settledTo = to;
    return inBars(mine, level, true);
  };

  /** What would be told if the sound ended here, and was not shown yet. */
  const glimpse = (): readonly StruckBar[] => {
    const isFresh = (at: Seconds): boolean => at > now() - LIVE.glimpsed && at <= now() - LIVE.soonest;
    const { found } = begun(() => sliding.bands.looks - 3);
    const fresh = found.filter(one => isFresh(one.at) && !weighed.some(other => isSameBlow(other, one)));
    const touching = contactsIn(sliding.bands, firstLook(now() - LIVE.glimpsed)).filter(
      one =>
        one.rise >= CONTACT.rise &&
        isFresh(one.at) &&
        !touches.some(other => Math.abs(other.at - one.at) < CONTACT.soonest),
    );
    if (fresh.length === 0 && touching.length === 0) return [];
    touches = since([...touches, ...touching], now() - LIVE.lately);
    weighed = since([...weighed, ...fresh], now() - LIVE.lately);
    const { all: blows, level } = blowsWith(found);
    const mine = blows.filter(blow => isFresh(blow.at) && !shown.some(one => isSameBlow(one, blow)));
    shown = since([...shown, ...mine], now() - LIVE.lately);
    return inBars(mine, level, false);
  };

  return {
    hear: samples => {
      const thin = thinner.thin(samples);
      const heard = new Float32Array(waiting.length + thin.length);
      heard.set(waiting);
      heard.set(thin, waiting.length);
      let from = 0;
      let { struck, atOnce } = NOTHING;
      for (; from + sliding.every <= heard.length; from += sliding.every) {
        sliding.look(heard, from);
        const count = sliding.gone + sliding.bands.looks;
        // Told by the count of looks alone, so that it does not matter how the sound is cut.
        if (count % LIVE.settleEvery === 0) struck = [...struck, ...settle(now() - LIVE.settled, false)];
        if (count % LIVE.glimpseEvery === 0) atOnce = [...atOnce, ...glimpse()];
      }
      waiting = heard.slice(from);
      return { struck, atOnce };
    },
    end: () => ({ struck: settle(now(), true), atOnce: [] }),
  };
};
