import type { Hertz, Seconds } from '../foundation/units.ts';
import {
  blowOf,
  CLAP_PAST,
  CLAP_TOLD,
  clapAt,
  type ClapAt,
  clapLook,
  loudnessOfRoom,
  isLoud,
  loudnessOfClaps,
  sharpness,
} from './claps.ts';
import { LIVE } from './constants.ts';
import type { Ear } from './ear.ts';
import type { StruckBar } from './hear.ts';
import { createThinner } from './thin.ts';

/** Looks between two that are kept for the room's loudness, and seconds of them. Our choice. */
const FLOOR_EVERY = 10;
const FLOOR_OVER: Seconds = 20;
/** Claps that tell how loud claps are. Our choice. */
const LEVEL_OVER = 64;
/** Looks that are kept; cut when twice as many are there. */
const KEPT = 256;

/**
 * An ear for claps, taps and a drum in sound that comes piece by piece. However it is cut, the same sound gives the
 * same blows: those of `clapsIn`, but for how loud the room and the claps are, which are taken from what came before.
 * A blow is told for good some 15 ms after it, and shown at the same time. Its memory does not grow.
 * @param rate 8 to 96 kHz
 * @example
 * createClapEar(44100).hear(new Float32Array(44100)).struck // => []
 */
export const createClapEar = (rate: Hertz): Ear => {
  const thinner = createThinner(rate);
  const { hop, size } = clapLook(thinner.rate);
  const every = hop / thinner.rate;
  const deaf = Math.round(LIVE.deaf / every);
  let waiting = new Float32Array(0);
  /** The last looks, and how many were let go of before them. */
  let looks: number[] = [];
  let gone = 0;
  let next = 0;
  let room: readonly number[] = [];
  let floor = -Infinity;
  let claps: readonly ClapAt[] = [];

  /** What is told once no more than this many looks can change it. */
  const tell = (untold: number): readonly StruckBar[] => {
    const struck: StruckBar[] = [];
    for (; next < gone + looks.length - untold; next++) {
      if (next % FLOOR_EVERY === 0) {
        room = [...room, looks[next - gone] ?? 0].slice(-Math.ceil(FLOOR_OVER / every / FLOOR_EVERY));
        floor = loudnessOfRoom(room);
      }
      if (next < deaf) continue;
      const last = claps.at(-1);
      const clap = clapAt(looks, next - gone, {
        floor,
        last: last === undefined ? undefined : last.look - gone,
      });
      if (clap === undefined) continue;
      claps = [...claps, { ...clap, look: next }].slice(-LEVEL_OVER);
      const level = loudnessOfClaps(claps);
      if (isLoud(clap, level)) struck.push(blowOf({ ...clap, look: next }, level, every));
    }
    if (looks.length > 2 * KEPT) {
      const drop = Math.max(0, Math.min(looks.length - KEPT, next - gone - CLAP_PAST));
      looks = looks.slice(drop);
      gone += drop;
    }
    return struck;
  };

  return {
    hear: samples => {
      const thin = thinner.thin(samples);
      const heard = new Float32Array(waiting.length + thin.length);
      heard.set(waiting);
      heard.set(thin, waiting.length);
      let from = 0;
      let struck: readonly StruckBar[] = [];
      for (; from + size <= heard.length; from += hop) {
        looks.push(sharpness(heard, from, size));
        struck = [...struck, ...tell(CLAP_TOLD)];
      }
      waiting = heard.slice(from);
      return { struck, atOnce: struck };
    },
    end: () => ({ struck: tell(0), atOnce: [] }),
  };
};
