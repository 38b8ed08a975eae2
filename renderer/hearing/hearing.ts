import { detailOf, failed, ok, type Problem, type Result } from '../../core/foundation/result.ts';
import type { HeardAgain, Known } from '../../core/hearing/again.ts';
import type { StruckBar } from '../../core/hearing/hear.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import type { SoundFile } from '../../core/hearing/soundFile.ts';
import { onOwnThread } from '../threads/ownThread.ts';
import type { ToHear } from './hearingWorker.ts';

/** Longest time one recording may take, in ms: a minute of sound takes about three seconds. */
const LIMIT = 60_000;

const LEFT = 'The recording was left as it is, and what is open stays as it is.';
const tooLong = (name: string): Problem => ({
  kind: 'too-large',
  what: `Hearing ${name} took too long and was stopped.`,
  kept: LEFT,
  next: 'Cut out the idea, save it as a file of its own, and open that.',
});
const unheard = (name: string, detail: string): Problem => ({
  kind: 'damaged-file',
  what: `${name} cannot be heard by this browser.`,
  kept: LEFT,
  next: 'Save the recording as a WAV file and open that.',
  detail,
});

const isWav = (name: string): boolean => /\.wav$/i.test(name);

/** Whether a file holds sound, by its name and what the system takes it for. */
export const isSound = (file: File): boolean =>
  isWav(file.name) || (file.type.startsWith('audio/') && !/midi?$/.test(file.type));

/** What the browser can decode, as one line of samples; done off the page's thread by the browser itself. */
const decoded = async (file: File): Promise<Recording> => {
  const sound = await new OfflineAudioContext(1, 1, 44100).decodeAudioData(await file.arrayBuffer());
  const channels = Array.from({ length: sound.numberOfChannels }, (_, c) => sound.getChannelData(c));
  const samples = Float32Array.from({ length: sound.length }, (_, i) =>
    channels.reduce((sum, channel) => sum + (channel[i] ?? 0) / channels.length, 0),
  );
  return { rate: sound.sampleRate, samples };
};

const soundIn = async (file: File | SoundFile): Promise<Result<SoundFile>> => {
  if (!(file instanceof File)) return ok(file);
  const { name } = file;
  if (isWav(name)) return ok({ name, bytes: new Uint8Array(await file.arrayBuffer()) });
  try {
    return ok({ name, recording: await decoded(file) });
  } catch (thrown) {
    return failed(unheard(name, detailOf(thrown)));
  }
};

/** On a thread of its own. @returns undefined when it was stopped */
const hear = async <Answer>(
  file: File | SoundFile,
  signal: AbortSignal,
  again?: Known,
): Promise<Result<Answer> | undefined> => {
  const sound = await soundIn(file);
  if (!sound.ok) return sound;
  const toHear: ToHear = { file: sound.value, again };
  const asked = await onOwnThread<Result<Answer>>(
    () => new Worker(new URL('./hearingWorker.ts', import.meta.url), { type: 'module' }),
    toHear,
    { limit: LIMIT, signal },
  );
  if (asked.ok) return asked.value;
  if (asked.why === 'stopped') return undefined;
  return failed(asked.why === 'time' ? tooLong(file.name) : unheard(file.name, asked.why.broke));
};

/**
 * The bars heard to be struck in a file, on a thread of its own. Problems: 'damaged-file' where the sound
 * cannot be decoded, 'too-large' after a minute, those of `heardIn`.
 * @returns undefined when it was stopped
 */
export const hearFile = (
  file: File,
  signal: AbortSignal,
): Promise<Result<readonly StruckBar[]> | undefined> => hear(file, signal);

/** The same sound once more, by what is known of it. Problems and answer as `hearFile`. */
export const hearSoundAgain = (
  sound: File | SoundFile,
  signal: AbortSignal,
  known: Known,
): Promise<Result<HeardAgain> | undefined> => hear(sound, signal, known);
