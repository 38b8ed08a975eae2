import type { Hertz, MidiPitch, Seconds } from '../foundation/units.ts';
import { createBrightnesses } from './brightness.ts';
import { HIGHEST_HEARD, HOP, LOWEST_HEARD, PER_SEMITONE } from './constants.ts';
import type { Recording } from './readWav.ts';
import { createResonator } from './resonator.ts';

/** One narrow band of a recording through time. */
export interface PitchBand {
  /** Its middle, as a MIDI number that need not be whole. */
  readonly midi: MidiPitch;
  /** How slowly it follows: the time constant of each of its two poles. */
  readonly lag: Seconds;
  /** How much sounds in it, look by look; full scale is about 1. */
  readonly loudness: Float32Array;
  /** Where in its swing it is, look by look, in 256ths of a turn. */
  readonly phase: Uint8Array;
  /** What noise holds in it in most of the recording. */
  readonly floor: number;
  /** What it holds in most of the recording, a tone that goes on included: at least the floor. */
  readonly ownFloor: number;
}

/** A recording as bands a quarter-tone apart. */
export interface PitchBands {
  /** From low to high. */
  readonly all: readonly PitchBand[];
  /** How much sounds over `CONTACT.above`, look by look: where a mallet touches a bar it is heard there. */
  readonly bright: readonly Float32Array[];
  /** Seconds from one look to the next. */
  readonly hop: Seconds;
  readonly looks: number;
}

/** Which share of a band's looks is under its floor. */
const FLOOR_SHARE = 0.4;
/** Looks left out at the start, where the filters settle, and from one taken to the next. */
export const SETTLING = 20;
export const EVERY = 7;

/**
 * The value under which this share of a list is; 0 for an empty one.
 * @example
 * quantile([3, 1, 2], 0.5) // => 2
 */
export const quantile = (values: ArrayLike<number>, share: number): number => {
  const sorted = Float64Array.from(values).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
};

/** A loudness in dB of full scale. @example Math.round(decibels(0.1)) // => -20 */
export const decibels = (loudness: number): number => 20 * Math.log10(loudness + 1e-12);

/** What sounds in a band at a look; nothing outside the recording. */
export const loudnessAt = (band: PitchBand | undefined, look: number): number => band?.loudness[look] ?? 0;

/** The frequency of a MIDI number that need not be whole. @example bandFrequency(69) // => 440 */
export const bandFrequency = (midi: MidiPitch): Hertz => 440 * 2 ** ((midi - 69) / 12);

/** The middles of all bands that sound of a rate can tell, as MIDI numbers, from low to high. */
export const bandMiddles = (rate: Hertz): readonly MidiPitch[] => {
  const middles: number[] = [];
  for (let midi = LOWEST_HEARD; midi <= HIGHEST_HEARD; midi += 1 / PER_SEMITONE) {
    // Near half the rate a filter no longer tells a band from its mirror.
    if (bandFrequency(midi) > rate * 0.46) break;
    middles.push(midi);
  }
  return middles;
};

/** What a band usually holds, from some of its looks. */
export const floorOf = (some: ArrayLike<number>): number => quantile(some, FLOOR_SHARE) + 1e-6;

/** PitchBands this far from one are what it is held against: near, and yet not the same bar. In bands. */
const NEAR = 5;
const FAR = 11;

/** How many times the floor of the bands around that of a band may be. */
const FLOOR_BESIDE = 2;

/**
 * What bands usually hold, each by itself, as floors: noise is broad, so what one band holds most of the time and those
 * around it do not is a bar that nobody damps.
 * @example
 * broadFloors(Array.from({ length: 20 }, (_, i) => (i === 10 ? 1 : 0.1)))[10] // => 0.2
 */
export const broadFloors = (floors: readonly number[]): readonly number[] =>
  floors.map((floor, i) => {
    const around = floors.filter((_, other) => Math.abs(other - i) >= NEAR && Math.abs(other - i) <= FAR);
    return Math.min(floor, FLOOR_BESIDE * quantile(around, 0.5) || floor);
  });

const bandOf = ({ rate, samples }: Recording, midi: number, every: number, looks: number): PitchBand => {
  const resonator = createResonator(bandFrequency(midi), rate);
  const loudness = new Float32Array(looks);
  const phase = new Uint8Array(looks);
  for (let look = 0; look < looks; look++) {
    loudness[look] = resonator.follow(samples, look * every, (look + 1) * every);
    phase[look] = resonator.phase();
  }
  const some: number[] = [];
  for (let look = SETTLING; look < looks; look += EVERY) some.push(loudness[look] as number);
  const floor = floorOf(some);
  return { midi, lag: resonator.lag, loudness, phase, floor, ownFloor: floor };
};

/**
 * A recording as narrow bands from the lowest to the highest bar.
 * @example
 * bandsOf({ rate: 22050, samples: new Float32Array(2205) }).looks // => 33
 */
export const bandsOf = (recording: Recording): PitchBands => {
  const every = Math.round(HOP * recording.rate);
  const looks = Math.floor(recording.samples.length / every);
  const alone = bandMiddles(recording.rate).map(midi => bandOf(recording, midi, every, looks));
  const floors = broadFloors(alone.map(band => band.floor));
  const all = alone.map((band, i) => ({ ...band, floor: floors[i] ?? band.floor }));
  const bright = createBrightnesses(recording.rate).map(brightness =>
    Float32Array.from({ length: looks }, (_, look) =>
      brightness.follow(recording.samples, look * every, (look + 1) * every),
    ),
  );
  return { all, bright, hop: every / recording.rate, looks };
};

/** How far a band stands out of its surroundings at a look, in dB. */
export const contrastAt = ({ all }: PitchBands, index: number, look: number): number => {
  // In order as they come, without a list more: this is asked often.
  const around: number[] = [];
  for (let d = NEAR; d <= FAR; d++) {
    for (const other of [all[index - d], all[index + d]]) {
      if (other === undefined) continue;
      const loudness = loudnessAt(other, look);
      let place = around.length;
      for (; place > 0 && (around[place - 1] as number) > loudness; place--)
        around[place] = around[place - 1] as number;
      around[place] = loudness;
    }
  }
  return decibels(loudnessAt(all[index], look)) - decibels(around[around.length >> 1] ?? 0);
};
