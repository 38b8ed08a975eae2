import type { Hertz } from '../foundation/units.ts';
import { decibels, quantile } from './bands.ts';
import { finite } from './finite.ts';

/** What is wrong with the sound that comes in, if anything. */
export type SoundTrouble = 'silent' | 'clipped' | 'noisy';

/** How the sound that comes in is. */
export interface SoundState {
  /** The loudest of the last tenth of a second, in dB of full scale; -60 is as low as it goes. */
  readonly level: number;
  readonly trouble: SoundTrouble | undefined;
}

/** Looks at sound that goes on. */
export interface SoundWatch {
  /**
   * @param samples the next piece, of any length
   * @param struck whether a bar was heard to be struck in it
   * @returns how it is, about ten times a second
   */
  watch(samples: Float32Array, struck: boolean): SoundState | undefined;
}

/** Seconds from one look to the next. */
const LOOK = 0.1;
/** No converter that is on gives less than this for so many looks. */
const DIGITAL_SILENCE = 1e-5;
const SILENT_LOOKS = 30;
/** So many samples in a row at full scale were cut off there. Clipping is told for so many looks. */
const FULL = 0.985;
const CUT_OFF = 3;
const CLIPPED_LOOKS = 50;
/** Looks without a strike before it is asked how loud the room is; looks of room that tell. */
const CALM_LOOKS = 20;
const ROOM_LOOKS = 40;
const FEWEST_ROOM_LOOKS = 20;
/**
 * The room is too loud where its noise is less than this under the strikes, in dB of peak over root mean square: at 26
 * nearly every take is heard right, at 16 one in three (npm run transcribe on takes among people talking).
 */
const UNDER_STRIKES = 21;
/** Without a strike to hold it against, in dB of full scale. Chosen by us. */
const LOUD_ROOM = -30;
const LOWEST = -60;

/**
 * Watches whether sound can be heard well: digital silence, samples cut off at full scale, a room that is too loud.
 * @param rate 8 to 96 kHz
 * @example
 * createSoundWatch(8000).watch(new Float32Array(800), false).level // => -60
 */
export const createSoundWatch = (rate: Hertz): SoundWatch => {
  const look = Math.round(LOOK * rate);
  let peak = 0;
  let power = 0;
  let seen = 0;
  let full = 0;
  let silent = 0;
  let clipped = 0;
  let calm = 0;
  let strikes: readonly number[] = [];
  let loudest = 0;
  let room: readonly number[] = [];

  const trouble = (): SoundTrouble | undefined => {
    if (silent >= SILENT_LOOKS) return 'silent';
    if (clipped > 0) return 'clipped';
    if (room.length < FEWEST_ROOM_LOOKS) return undefined;
    const limit = strikes.length === 0 ? LOUD_ROOM : quantile(strikes, 0.5) - UNDER_STRIKES;
    return quantile(room, 0.5) > limit ? 'noisy' : undefined;
  };
  const finishLook = (): SoundState => {
    const level = Math.max(LOWEST, decibels(peak));
    silent = peak < DIGITAL_SILENCE ? silent + 1 : 0;
    clipped = Math.max(0, clipped - 1);
    calm += 1;
    loudest = Math.max(loudest * 0.7, peak);
    if (calm > CALM_LOOKS) room = [...room, decibels(Math.sqrt(power / seen))].slice(-ROOM_LOOKS);
    peak = 0;
    power = 0;
    seen = 0;
    return { level, trouble: trouble() };
  };
  return {
    watch: (samples, struck) => {
      let state: SoundState | undefined;
      if (struck) {
        calm = 0;
        strikes = [...strikes, decibels(Math.max(loudest, peak))].slice(-ROOM_LOOKS);
      }
      for (const sample of finite(samples)) {
        const size = Math.abs(sample);
        if (size > peak) peak = size;
        power += sample * sample;
        full = size >= FULL ? full + 1 : 0;
        if (full >= CUT_OFF) clipped = CLIPPED_LOOKS;
        seen += 1;
        if (seen === look) state = finishLook();
      }
      return state;
    },
  };
};
