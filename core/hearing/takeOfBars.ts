import { failed, ok, type Result } from '../foundation/result.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { Take } from '../take/take.ts';
import { CLAP_PITCH } from './claps.ts';
import type { StruckBar } from './hear.ts';

/** What a take carries besides what was struck. */
export interface HeardFrom extends Pick<Take, 'id' | 'capturedAt' | 'from'> {
  /** How many semitones the instrument sounds above its part. */
  readonly soundsAbove: number;
}

/**
 * What was heard, as a take: pitches as the part is written (the middle line for what has none), no click, lengths
 * that mean nothing.
 * @returns 'no-notes' where no bar was heard
 * @example
 * takeOfBars([], { id: 't', capturedAt: '', from: 'a.wav', soundsAbove: 12 }).ok // => false
 */
export const takeOfBars = (
  bars: readonly StruckBar[],
  { id, capturedAt, from, soundsAbove }: HeardFrom,
): Result<Take> => {
  const written = (sounds: MidiPitch): MidiPitch => Math.max(0, Math.min(127, sounds - soundsAbove));
  const strikes = bars.map(({ at, sounding, velocity, unpitched, nextBest, perhapsNone }) => ({
    at,
    pitch: unpitched === true ? CLAP_PITCH : written(sounding),
    velocity,
    ...(nextBest === undefined || unpitched === true ? {} : { nextBest: written(nextBest) }),
    ...(perhapsNone === undefined ? {} : { perhapsNone }),
  }));
  if (strikes.length === 0)
    return failed({
      kind: 'no-notes',
      what: `No struck bars, and no claps or taps, are heard in ${from}.`,
      kept: 'The recording was left as it is.',
      next: 'Record nearer to the bars, or where it is quieter, and try again.',
    });
  return ok({ id, capturedAt, source: 'file', from, latency: 0, strikes, lengthsMean: false });
};
