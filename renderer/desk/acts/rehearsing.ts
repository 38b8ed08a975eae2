import { accompanied } from '../../../core/rehearse/accompanied.ts';
import { keptPlaying } from '../../../core/rehearse/keep.ts';
import type { PlayedStroke } from '../../../core/rehearse/notice.ts';
import { playingAlong } from '../../../core/rehearse/result.ts';
import type { Score } from '../../../core/score/score.ts';
import type { Struck } from '../../input/struck.ts';
import { newId } from '../newId.ts';
import {
  barsToRehearse,
  keepPlaying,
  partOfDevice,
  playedParts,
  setRehearsed,
} from '../commands/rehearsal.ts';
import type { Desk } from '../desk.ts';
import type { Listening } from './listening.ts';

/** Playing along to the page of Grow. */
export interface Rehearsing {
  /** Counts a bar, then plays the bars chosen; what is struck meanwhile counts. */
  readonly start: () => void;
  /** A strike, after it has sounded and been remembered. */
  readonly strike: (struck: Struck) => void;
  /** Keeps what was played last beside what is written. Nothing else of a rehearsal is stored. */
  readonly keep: () => void;
}

/** A strike further before the first beat than this belongs to the count. */
const BEFORE = 0.3;

/**
 * @param now seconds on the clock of all input
 * @param remembered until all that was struck up to now has come here; undefined where it has
 */
export const createRehearsing = (
  desk: Desk,
  listening: Pick<Listening, 'rehearse'>,
  now: () => number,
  remembered: () => Promise<void> | undefined = () => undefined,
): Rehearsing => {
  let take: ((struck: Struck) => void) | undefined;

  const begin = (score: Score): void => {
    const plan = desk.shownPlan.peek();
    const settings = desk.rehearsal.peek();
    if (plan === undefined) return;
    const bars = barsToRehearse(settings, score.barCount);
    const { own, loop, click } = settings;
    const speed = settings.speed / 100;
    const parts = playedParts(plan, settings, desk.devices.peek());
    const sound = accompanied(score, { parts, own, bars, loop, click });
    const lead = sound.lead / speed;
    const strikes: Record<string, readonly PlayedStroke[]> = Object.fromEntries(parts.map(id => [id, []]));

    const mine = ({ at, pitch, velocity, by }: Struck): void => {
      const late = (desk.lateness.peek()[by.name] ?? 0) / 1000;
      const since = under.sinceStart(at - late);
      const part = partOfDevice(plan, settings, by.name)?.id;
      if (since === undefined || part === undefined || since - lead < -BEFORE) return;
      strikes[part] = [
        ...(strikes[part] ?? []),
        { at: since - lead, pitch, velocity, by: { name: by.name, source: by.source } },
      ];
    };
    const tell = (lasted: number, ended: boolean): void => {
      if (take === mine) take = undefined;
      const playing = playingAlong(score, { bars, speed, loop, lasted, ended, strikes });
      desk.run(setRehearsed, { score, playing });
    };
    desk.run(setRehearsed, undefined);
    take = mine;
    const under = listening.rehearse(score, sound, speed, ended => {
      const lasted = (under.sinceStart(now()) ?? 0) - lead;
      const waiting = remembered();
      if (lasted <= 0) {
        if (take === mine) take = undefined;
      } else if (waiting === undefined) tell(lasted, ended);
      else
        void waiting.then(() => {
          tell(lasted, ended);
        });
    });
  };

  return {
    start: () => {
      const score = desk.growScore.peek();
      if (score !== undefined) begin(score);
    },
    strike: struck => {
      take?.(struck);
    },
    keep: () => {
      const score = desk.growScore.peek();
      const playing = desk.rehearsed.peek();
      if (score === undefined || playing === undefined) return;
      desk.run(keepPlaying, keptPlaying(score, playing, newId(), new Date().toISOString()));
      // The page says the same as before; what was noticed still stands under it.
      const same = desk.growScore.peek();
      if (same !== undefined) desk.run(setRehearsed, { score: same, playing, isKept: true });
    },
  };
};
