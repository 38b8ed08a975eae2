import type { Hertz, Seconds } from '../../core/foundation/units.ts';

/** How long the room takes to fall by 60 dB: a furnished classroom, not a hall (common practice, no source). */
const ROOM_T60: Seconds = 0.5;
/** The first wall is some two metres away. */
const FIRST_REFLECTION: Seconds = 0.012;

/**
 * The impulse of a small room: decaying noise, darker as it fades, different in each ear. Made by a
 * fixed number sequence, so a piece rendered twice gives the same file.
 */
export const roomImpulse = (sampleRate: Hertz, ear: 0 | 1): Float32Array<ArrayBuffer> => {
  const samples = new Float32Array(Math.ceil(ROOM_T60 * sampleRate));
  let seed = ear === 0 ? 12345 : 67891;
  let dark = 0;
  for (let i = Math.round(FIRST_REFLECTION * sampleRate); i < samples.length; i += 1) {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    const noise = seed / 2 ** 31 - 1;
    const age = i / samples.length;
    dark += (noise - dark) * (0.5 - 0.4 * age);
    samples[i] = dark * 10 ** (-3 * age);
  }
  return samples;
};

/** The room as a node: whatever is sent in comes back as its reverberation alone. */
export const createRoom = (context: BaseAudioContext): ConvolverNode => {
  const [left, right] = [roomImpulse(context.sampleRate, 0), roomImpulse(context.sampleRate, 1)];
  const buffer = new AudioBuffer({
    numberOfChannels: 2,
    length: left.length,
    sampleRate: context.sampleRate,
  });
  buffer.copyToChannel(left, 0);
  buffer.copyToChannel(right, 1);
  return new ConvolverNode(context, { buffer });
};
