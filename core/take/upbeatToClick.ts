import type { Seconds } from '../foundation/units.ts';
import { isBounce } from './bounce.ts';
import { beatsInBar } from './clickBeats.ts';
import type { Take } from './take.ts';

/** How far from a beat, in beats, what was meant for it is struck at most: half way to the semiquavers beside it. */
const NEAR = 0.125;
/** What is struck so much before or after a barline at most is struck on it: players come early. In beats; our choice. */
const ON_BARLINE = { early: 0.2, late: 0.15 };
/** Between a stroke and its bounce at most so many other bars are struck: four mallets, and theirs. */
const CHORD = 8;

/** Where a moment lies among beats, in beats from the first; the nearest beat's pace goes on outside. */
const beatAt = (beats: readonly Seconds[], at: Seconds): number => {
  let k = 0;
  while (k + 2 < beats.length && (beats[k + 1] ?? Infinity) <= at) k++;
  const from = beats[k] ?? 0;
  const pace = (beats[k + 1] ?? from + 1) - from;
  return pace > 0 ? k + (at - from) / pace : k;
};

/** Whether a strike is the bounce of one before it, which no page has. */
const isBounced = ({ strikes }: Take, i: number): boolean => {
  const one = strikes[i];
  const before = strikes
    .slice(Math.max(0, i - CHORD), i)
    .filter(other => other.pitch === one?.pitch)
    .at(-1);
  return (
    one !== undefined && before !== undefined && isBounce(one.at - before.at, one.velocity, before.velocity)
  );
};

/**
 * The strike on the first barline of a phrase that begins with an upbeat to its click, as an index: what is struck in
 * the last half of a bar and leads on to a struck barline is an upbeat, not a bar that begins with rests (common
 * practice, no source). Where no barline is struck after it, it leads nowhere and the rests stay.
 * @returns undefined without a click, and where the phrase begins otherwise
 * @example
 * const take = { id: '', capturedAt: '', source: 'midi', from: '', latency: 0, lengthsMean: false, click: { metre: metre(4, 4), beats: [0, 1, 2, 3, 4] }, strikes: [{ at: 3.1, pitch: 60, velocity: 90 }, { at: 4, pitch: 64, velocity: 90 }] };
 * strikeAfterUpbeat(take) // => 1
 */
export const strikeAfterUpbeat = (take: Take): number | undefined => {
  const [first] = take.strikes;
  if (take.click === undefined || first === undefined) return undefined;
  const { beats, metre } = take.click;
  const perBar = beatsInBar(metre);
  const beatOf = (at: Seconds): number => beatAt(beats, at - take.latency / 1000);
  const begins = beatOf(first.at);
  const barline = (Math.floor(begins / perBar) + 1) * perBar;
  if (begins < 0 || barline - begins > perBar / 2 + NEAR) return undefined;
  const away = (at: Seconds): number => Math.abs(beatOf(at) - barline);
  let found = 0;
  for (let i = 1; i < take.strikes.length; i++) {
    const at = take.strikes[i]?.at ?? Infinity;
    if (beatOf(at) > barline + ON_BARLINE.late) break;
    if (away(at) < away(take.strikes[found]?.at ?? Infinity) && !isBounced(take, i)) found = i;
  }
  const struck = beatOf(take.strikes[found]?.at ?? Infinity);
  return found > 0 && struck >= barline - ON_BARLINE.early ? found : undefined;
};
