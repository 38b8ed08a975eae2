import { ok, type Result } from '../foundation/result.ts';
import { type HeardAgain, type Known, struckAgain } from './again.ts';
import { barsOrClaps, clapsIn } from './claps.ts';
import { type StruckBar, struckBars } from './hear.ts';
import { type Recording, readWav } from './readWav.ts';

/** A recording as it comes: the bytes of a WAV file, or already decoded. */
export type SoundFile =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly recording: Recording };

const recordingIn = (file: SoundFile): Result<Recording> =>
  'recording' in file ? ok(file.recording) : readWav(file.bytes, file.name);

/**
 * The bars that are heard to be struck in a recording, or claps and taps where there are hardly any.
 * @returns the problems of `readWav`
 * @example
 * heardIn({ name: 'a.wav', recording: { rate: 44100, samples: new Float32Array(100) } }) // => { ok: true, value: [] }
 */
export const heardIn = (file: SoundFile): Result<readonly StruckBar[]> => {
  const recording = recordingIn(file);
  return recording.ok ? ok(barsOrClaps(struckBars(recording.value), clapsIn(recording.value))) : recording;
};

/**
 * A recording of bars heard a second time, by what is known of it.
 * @returns the problems of `readWav`
 * @example
 * heardAgainIn({ name: 'a.wav', recording: { rate: 44100, samples: new Float32Array(100) } }, { told: [], set: [] }).ok // => true
 */
export const heardAgainIn = (file: SoundFile, known: Known): Result<HeardAgain> => {
  const recording = recordingIn(file);
  return recording.ok ? ok(struckAgain(recording.value, known)) : recording;
};
