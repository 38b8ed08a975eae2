import { failed, type Failed, ok, type Result } from '../foundation/result.ts';
import type { Hertz } from '../foundation/units.ts';

/** Sound as one line of samples, -1 to 1. */
export interface Recording {
  readonly rate: Hertz;
  readonly samples: Float32Array;
}

/** An hour at 48 kHz; longer recordings are no idea of a pupil. */
const MOST_FRAMES = 48_000 * 3600;

const notWav = (name: string, detail: string): Failed =>
  failed({
    kind: 'damaged-file',
    what: `${name} is no recording that can be heard here.`,
    kept: 'The file was left as it is, and nothing else was changed.',
    next: 'Save the recording as a WAV file (8 to 96 kHz, 16, 24 or 32 bits) and try again.',
    detail,
  });

/** Format tags of RIFF/WAVE (Multimedia Programming Interface and Data Specifications 1.0; WAVEFORMATEXTENSIBLE). */
const PCM = 1;
const FLOAT = 3;
const EXTENSIBLE = 0xfffe;

type Sample = (view: DataView, at: number) => number;

const sampleOf = (tag: number, bits: number): Sample | undefined => {
  if (tag === FLOAT && bits === 32) return (view, at) => view.getFloat32(at, true);
  if (tag !== PCM) return undefined;
  switch (bits) {
    case 16:
      return (view, at) => view.getInt16(at, true) / 0x8000;
    case 24:
      return (view, at) => (view.getUint16(at, true) + view.getInt8(at + 2) * 0x10000) / 0x800000;
    case 32:
      return (view, at) => view.getInt32(at, true) / 0x80000000;
    default:
      return undefined;
  }
};

/**
 * A WAV file as one line of samples, its channels averaged. A file that was cut off gives what is there.
 * @param bytes RIFF/WAVE: 16, 24 or 32 bits PCM or 32 bits floating point, 8 to 96 kHz, up to 8 channels
 * @param name as the teacher knows the file
 * @returns 'damaged-file' for anything else, 'too-large' for more than an hour
 * @example
 * readWav(new Uint8Array(4), 'take.wav').ok // => false
 */
export const readWav = (bytes: Uint8Array, name: string): Result<Recording> => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));
  if (bytes.length < 12 || word(0) !== 'RIFF' || word(8) !== 'WAVE') return notWav(name, 'no RIFF/WAVE');
  let format: { tag: number; channels: number; rate: number; bits: number } | undefined;
  for (let at = 12; at + 8 <= bytes.length;) {
    const length = view.getUint32(at + 4, true);
    const body = at + 8;
    if (word(at) === 'fmt ' && body + 16 <= bytes.length) {
      const tag = view.getUint16(body, true);
      format = {
        // The first two bytes of the sub-format are the tag it stands for.
        tag: tag === EXTENSIBLE && body + 26 <= bytes.length ? view.getUint16(body + 24, true) : tag,
        channels: view.getUint16(body + 2, true),
        rate: view.getUint32(body + 4, true),
        bits: view.getUint16(body + 14, true),
      };
    }
    if (word(at) === 'data') {
      if (format === undefined) return notWav(name, 'sound before its format');
      const { tag, channels, rate, bits } = format;
      const sample = sampleOf(tag, bits);
      if (sample === undefined || channels < 1 || channels > 8 || rate < 8000 || rate > 96_000)
        return notWav(name, `tag ${String(tag)}, ${String(bits)} bits, ${String(rate)} Hz`);
      const frame = (channels * bits) / 8;
      const frames = Math.floor(Math.min(length, bytes.length - body) / frame);
      if (frames > MOST_FRAMES) return tooLong(name);
      const samples = new Float32Array(frames);
      for (let i = 0; i < frames; i++) {
        let sum = 0;
        for (let c = 0; c < channels; c++) sum += sample(view, body + i * frame + (c * bits) / 8);
        const mean = sum / channels;
        samples[i] = Number.isFinite(mean) ? mean : 0;
      }
      return ok({ rate, samples });
    }
    at = body + length + (length & 1);
  }
  return notWav(name, 'no sound in it');
};

const tooLong = (name: string): Failed =>
  failed({
    kind: 'too-large',
    what: `${name} is longer than an hour.`,
    kept: 'The file was left as it is.',
    next: 'Cut out the idea and save it as a file of its own.',
  });
