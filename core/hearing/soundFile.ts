import { ok, type Result } from '../foundation/result.ts';
import { type Known, struckAgain } from './again.ts';
import { barsOrClaps, clapsIn } from './claps.ts';
import { type StruckBar, struckBars } from './hear.ts';
import { type Recording, readWav } from './readWav.ts';

/** A recording as it comes: the bytes of a WAV file, or already decoded. */
export type SoundFile =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly recording: Recording };

const struckIn = (recording: Recording, again: Known | undefined): readonly StruckBar[] =>
  again === undefined
    ? barsOrClaps(struckBars(recording), clapsIn(recording))
    : struckAgain(recording, again);

/**
 * The bars that are heard to be struck in a recording, or claps and taps where there are hardly any.
 * @param again what is known of it, where it is heard a second time
 * @returns the problems of `readWav`
 * @example
 * heardIn({ name: 'a.wav', recording: { rate: 44100, samples: new Float32Array(100) } }) // => { ok: true, value: [] }
 */
export const heardIn = (file: SoundFile, again?: Known): Result<readonly StruckBar[]> => {
  if ('recording' in file) return ok(struckIn(file.recording, again));
  const recording = readWav(file.bytes, file.name);
  return recording.ok ? ok(struckIn(recording.value, again)) : recording;
};
