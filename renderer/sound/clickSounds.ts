import type { Hertz } from '../../core/foundation/units.ts';

/** The two clicks, higher for the first beat of a bar. */
export interface ClickSounds {
  of(accent: boolean): AudioBuffer;
}

/** A short dry tick, clear of the bars' own pitches; full from its first millisecond. */
const tick = (sampleRate: Hertz, frequency: Hertz, level: number): AudioBuffer => {
  const length = Math.round(0.05 * sampleRate);
  const buffer = new AudioBuffer({ numberOfChannels: 1, length, sampleRate });
  buffer.getChannelData(0).set(
    Float32Array.from({ length }, (_, i) => {
      const t = i / sampleRate;
      return level * Math.exp(-t / 0.008) * Math.sin(2 * Math.PI * frequency * t);
    }),
  );
  return buffer;
};

export const createClickSounds = (sampleRate: Hertz): ClickSounds => {
  const accented = tick(sampleRate, 2093, 0.8);
  const plain = tick(sampleRate, 1397, 0.6);
  return { of: accent => (accent ? accented : plain) };
};
