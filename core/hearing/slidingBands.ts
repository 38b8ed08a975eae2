import type { Hertz, MidiPitch, Seconds } from '../foundation/units.ts';
import { riseAt, spanOf } from './bandOnsets.ts';
import {
  EVERY,
  SETTLING,
  bandMiddles,
  broadFloors,
  floorOf,
  bandFrequency,
  type PitchBands,
} from './bands.ts';
import { createBrightnesses } from './brightness.ts';
import { HOP, LIVE } from './constants.ts';
import { createResonator, type Resonator } from './resonator.ts';

/** One band of sound that goes on: what it held lately. */
interface SlidingBand {
  readonly midi: MidiPitch;
  readonly lag: Seconds;
  readonly loudness: Float32Array;
  readonly phase: Uint8Array;
  /** By how much it rises, look by look. */
  readonly rises: Float32Array;
  readonly span: number;
  floor: number;
  ownFloor: number;
  readonly resonator: Resonator;
  /** Some of its looks, round and round, for its floor. */
  readonly some: Float32Array;
}

/** The last seconds of sound as bands. */
export interface SlidingBands {
  /** What is known now; looks are counted from the oldest that is kept. */
  readonly bands: PitchBands;
  /** By how much a band rises, look by look. */
  rises(band: number): Float32Array;
  /** How many looks were let go of. */
  readonly gone: number;
  /** How many samples make a look. */
  readonly every: number;
  /** One look more. @param samples at least `every` of them from `from` on */
  look(samples: Float32Array, from: number): void;
}

const KEPT = Math.round(LIVE.kept / HOP);
const FLOOR_LOOKS = Math.round(LIVE.floor / (HOP * EVERY));

/**
 * Bands as `bandsOf` gives them, of which only the last seconds are kept: memory does not grow, however long it goes on.
 * A floor is what the band held in the last twenty seconds.
 * @param onGone called when looks are let go of, with their number
 */
export const createSlidingBands = (rate: Hertz, onGone: (looks: number) => void): SlidingBands => {
  const every = Math.round(HOP * rate);
  const hop = every / rate;
  const all = bandMiddles(rate).map((midi): SlidingBand => {
    const resonator = createResonator(bandFrequency(midi), rate);
    const { lag } = resonator;
    return {
      midi,
      lag,
      loudness: new Float32Array(2 * KEPT),
      phase: new Uint8Array(2 * KEPT),
      rises: new Float32Array(2 * KEPT),
      span: spanOf({ lag }, hop),
      floor: 1e-6,
      ownFloor: 1e-6,
      resonator,
      some: new Float32Array(FLOOR_LOOKS),
    };
  });
  const brightnesses = createBrightnesses(rate);
  const bright = brightnesses.map(() => new Float32Array(2 * KEPT));
  let looks = 0;
  let gone = 0;
  let taken = 0;

  const letGo = (): void => {
    for (const { loudness, phase, rises } of all) {
      phase.copyWithin(0, KEPT);
      loudness.copyWithin(0, KEPT);
      rises.copyWithin(0, KEPT);
    }
    for (const values of bright) values.copyWithin(0, KEPT);
    looks -= KEPT;
    gone += KEPT;
    onGone(KEPT);
  };
  /** Often at first, while little is known. */
  const isFloorDue = (count: number): boolean => count % (count < 2 * FLOOR_LOOKS ? 10 : 50) === 0;

  return {
    get bands() {
      return { all, bright, hop, looks };
    },
    get gone() {
      return gone;
    },
    rises: band => all[band]?.rises ?? new Float32Array(0),
    every,
    look: (samples, from) => {
      if (looks === 2 * KEPT) letGo();
      for (const band of all) {
        band.loudness[looks] = band.resonator.follow(samples, from, from + every);
        band.phase[looks] = band.resonator.phase();
        // Before it is let go of, a look needs what was before it; there it rises no more than at first.
        band.rises[looks] = riseAt(band, looks, band.span);
      }
      brightnesses.forEach((brightness, i) => {
        const values = bright[i];
        if (values !== undefined) values[looks] = brightness.follow(samples, from, from + every);
      });
      const count = gone + looks;
      looks += 1;
      if (count < SETTLING || count % EVERY !== 0) return;
      for (const band of all) band.some[taken % FLOOR_LOOKS] = band.loudness[looks - 1] ?? 0;
      taken += 1;
      if (!isFloorDue(taken)) return;
      const own = all.map(band => floorOf(band.some.subarray(0, taken)));
      const floors = broadFloors(own);
      all.forEach((band, i) => {
        band.floor = floors[i] ?? band.floor;
        band.ownFloor = own[i] ?? band.ownFloor;
      });
    },
  };
};
