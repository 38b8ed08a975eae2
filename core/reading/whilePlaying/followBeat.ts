import { PLAYER } from '../onBeat/constants.ts';
import { beatTimesOf } from '../freeBeat/beatTimes.ts';
import { steadyBeat } from '../search/steadyBeat.ts';
import { LATEST_BEATS } from './constants.ts';
import type { WrittenBeat } from './soFar.ts';
import type { ReadWindow } from './window.ts';
import type { WindowRead } from './writeWindow.ts';

/**
 * A found beat after the player: the last bars' beats fitted to what was read in them, those before kept.
 * @returns the beat as it was where the fit is none
 */
export const followBeat = (beat: WrittenBeat, window: ReadWindow, read: WindowRead): WrittenBeat => {
  const { events } = read.clean;
  const { ticks, swing } = read.placement;
  const first = ticks[0] ?? 0;
  const last = ticks[ticks.length - 1] ?? 0;
  // A few strikes within two beats say nothing of the tempo.
  if (last - first < 2 * beat.step) return beat;
  const { map } = beatTimesOf(
    {
      ticks,
      held: [],
      beat: beat.step,
      swingHalf: swing.of === 'half' ? swing.ratio / (1 + swing.ratio) : 0.5,
      spread: PLAYER.spread,
      parts: window.lattice.cells[0]?.parts ?? 2,
    },
    Float64Array.from(events, e => e.at),
    steadyBeat(beat.beats.slice(-8)),
  );
  // Beat k of the fit is so many beats from the first barline; the beats before it stay.
  const start = beat.zero - map.zero;
  const beats = [...beat.beats.slice(0, Math.max(0, start)), ...map.beats];
  const isRising = beats.every((b, k) => k === 0 || b > (beats[k - 1] ?? b));
  if (start < 0 || !isRising) return beat;
  const from = Math.max(0, beats.length - LATEST_BEATS);
  return { ...beat, beats: beats.slice(from), zero: beat.zero - from };
};
