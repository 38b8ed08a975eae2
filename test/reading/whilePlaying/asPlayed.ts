import type { PhraseHeard, WrittenSoFar } from '../../../core/reading/whilePlaying/soFar.ts';
import { writeOn } from '../../../core/reading/whilePlaying/writeOn.ts';
import type { Take } from '../../../core/take/take.ts';

/** One look at the page while a take is played. */
export interface Look {
  readonly heard: PhraseHeard;
  readonly so: WrittenSoFar;
}

/** Seconds from a strike to when it is written, as a device and a thread take them. Our choice. */
const TAKES = 0.005;

/** What is known at a moment of a take that is being played. */
export const heardAt = (take: Take, now: number): PhraseHeard => {
  const beats = take.click?.beats.filter(b => b <= now) ?? [];
  return {
    since: take.strikes[0]?.at ?? 0,
    strikes: take.strikes.filter(s => s.at <= now),
    latency: take.latency,
    now,
    ...(take.click === undefined || beats.length < 2 ? {} : { click: { metre: take.click.metre, beats } }),
  };
};

/**
 * A take as it is written while it is played: at each strike, and at each moment the page says that there is
 * more to show.
 * @param every only each so-manieth strike is answered: the thread was busy
 */
export const asPlayed = (take: Take, write: typeof writeOn = writeOn, every = 1): readonly Look[] => {
  const looks: Look[] = [];
  let so: WrittenSoFar | undefined;
  const look = (now: number): void => {
    const heard = heardAt(take, now);
    so = write(so, heard);
    looks.push({ heard, so });
  };
  take.strikes.forEach((strike, i) => {
    const next = take.strikes[i + 1]?.at ?? Infinity;
    if (next <= strike.at + TAKES || i % every !== every - 1) return;
    look(strike.at + TAKES);
    for (let turns = 0; so?.again !== undefined && so.again < next && turns < 20; turns++) look(so.again);
  });
  return looks;
};

/** A strike's name. */
export const nameOf = (at: number, pitch: number): string => `${at.toFixed(6)}:${String(pitch)}`;

/** What is shown: each strike's position in ticks, by time and tone bar. */
export const shownOf = ({ moments, upTo }: WrittenSoFar): ReadonlyMap<string, number> =>
  new Map(
    moments
      .filter(m => m.tick < upTo)
      .flatMap(m => m.struck.map(s => [nameOf(s.at, s.pitch), m.tick] as const)),
  );

/** The last position at which each strike was shown, in crotchets, in order of time; undefined for none. */
export const lastShown = (take: Take, looks: readonly Look[]): readonly (number | undefined)[] => {
  const ticks = new Map(looks.flatMap(({ so }) => [...shownOf(so)]));
  return take.strikes.map(s => {
    const tick = ticks.get(nameOf(s.at - take.latency / 1000, s.pitch));
    return tick === undefined ? undefined : tick / 48;
  });
};

/** Notes that came to be shown, and how often one of them was put elsewhere or taken away again. */
export const steadinessOf = (
  looks: readonly Look[],
): { readonly shown: number; readonly changed: number } => {
  const seen = new Set<string>();
  let changed = 0;
  let before: ReadonlyMap<string, number> = new Map();
  for (const { so } of looks) {
    const now = shownOf(so);
    const oldest = so.moments[0]?.tick ?? Infinity;
    for (const [name, tick] of before) {
      const then = now.get(name);
      if (then === undefined ? tick >= oldest : then !== tick) changed++;
    }
    for (const name of now.keys()) seen.add(name);
    before = now;
  }
  return { shown: seen.size, changed };
};
