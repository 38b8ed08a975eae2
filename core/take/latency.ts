import { median, robustDeviation } from '../foundation/statistics.ts';
import { failed, ok, type Result } from '../foundation/result.ts';
import type { Milliseconds, Seconds } from '../foundation/units.ts';

/** How late strikes from one device come, as its player strikes along to the click. */
export interface Lateness {
  /** Above zero: after the click. */
  readonly late: Milliseconds;
  /** How far single strikes lie from that. */
  readonly spread: Milliseconds;
  /** Strikes that were used. */
  readonly strikes: number;
}

/** Strikes at the start are for finding the click. */
const FINDING = 3;
/** Fewer strikes than this, or strikes less even, say nothing about the device. */
const FEWEST = 8;
const MOST_SPREAD: Milliseconds = 60;
/** Devices are not later than this; nobody is this early. */
const FURTHEST: Milliseconds = 250;

/**
 * What strikes to a click say of their device: the middle of how late they come, from the strikes near it.
 * The player's own habit is in it, which is what the reader wants taken off.
 * @param beats when each beat of the click was heard, rising, on the clock of the strikes
 * @example
 * const beats = Array.from({ length: 12 }, (_, i) => i);
 * latenessOf(beats, beats.map(at => at + 0.03)) // => { ok: true, value: { late: 30, spread: 1, strikes: 9 } }
 * latenessOf(beats, [0, 1, 2]).ok // => false
 */
export const latenessOf = (beats: readonly Seconds[], strikes: readonly Seconds[]): Result<Lateness> => {
  const offsets = [...strikes]
    .sort((a, b) => a - b)
    .slice(FINDING)
    .flatMap(at => {
      const nearest = beats.reduce(
        (so, beat) => (Math.abs(at - beat) < Math.abs(at - so) ? beat : so),
        Infinity,
      );
      const off = (at - nearest) * 1000;
      return Math.abs(off) <= FURTHEST ? [off] : [];
    });
  if (offsets.length < FEWEST) return failed(tooFew(offsets.length));
  const middle = median(offsets);
  const spread = Math.max(1, robustDeviation(offsets));
  const near = offsets.filter(off => Math.abs(off - middle) <= 3 * spread);
  if (spread > MOST_SPREAD || near.length < FEWEST) return failed(tooUneven());
  return ok({
    late: Math.round(near.reduce((a, b) => a + b, 0) / near.length),
    spread: Math.round(spread),
    strikes: near.length,
  });
};

const problem = (what: string): { kind: 'out-of-range'; what: string; kept: string; next: string } => ({
  kind: 'out-of-range',
  what,
  kept: 'What was remembered of this device before still holds.',
  next: 'Try again: one strike on every click, the whole fifteen seconds.',
});

const tooFew = (count: number): ReturnType<typeof problem> =>
  problem(`Only ${String(count)} strikes met the click, too few to tell.`);

const tooUneven = (): ReturnType<typeof problem> =>
  problem('The strikes lay too far apart to tell the device from the player.');
