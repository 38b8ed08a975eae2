import type { Hertz } from '../../core/foundation/units.ts';

/** The two clicks, sharper for the first beat of a bar. */
export interface ClickSounds {
  /** @param unpitched where a microphone may hear it: it must not be taken for a bar */
  of(accent: boolean, unpitched?: boolean): AudioBuffer;
}

/** Seconds that a click sounds, and in which it falls to a third. */
const LENGTH = 0.05;
const DECAY = 0.008;

/** A short dry tick, clear of the bars' own pitches; full from its first millisecond. */
const pitchedTick = (sampleRate: Hertz, frequency: Hertz, level: number): Float32Array =>
  Float32Array.from({ length: Math.round(LENGTH * sampleRate) }, (_, i) => {
    const t = i / sampleRate;
    return level * Math.exp(-t / DECAY) * Math.sin(2 * Math.PI * frequency * t);
  });

/**
 * A tick of noise, the same every time, brighter on the first beat: as broad as a bar is narrow, so that whoever listens
 * for bars hears none in it, however the room rings.
 */
export const unpitchedTick = (sampleRate: Hertz, accent: boolean): Float32Array => {
  let state = accent ? 18 : 17;
  let held = 0;
  const bright = accent ? 1 : 0.35;
  return Float32Array.from({ length: Math.round(LENGTH * sampleRate) }, (_, i) => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    held += bright * (state / 0x80000000 - held);
    return (accent ? 0.8 : 1) * Math.exp(-i / sampleRate / DECAY) * held;
  });
};

const bufferOf = (sampleRate: Hertz, samples: Float32Array): AudioBuffer => {
  const buffer = new AudioBuffer({ numberOfChannels: 1, length: samples.length, sampleRate });
  buffer.getChannelData(0).set(samples);
  return buffer;
};

export const createClickSounds = (sampleRate: Hertz): ClickSounds => {
  const accented = bufferOf(sampleRate, pitchedTick(sampleRate, 2093, 0.5));
  const plain = bufferOf(sampleRate, pitchedTick(sampleRate, 1397, 0.4));
  const accentedNoise = bufferOf(sampleRate, unpitchedTick(sampleRate, true));
  const plainNoise = bufferOf(sampleRate, unpitchedTick(sampleRate, false));
  return {
    of: (accent, unpitched = false) =>
      unpitched ? (accent ? accentedNoise : plainNoise) : accent ? accented : plain,
  };
};
