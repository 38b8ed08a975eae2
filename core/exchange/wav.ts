import type { Hertz } from '../foundation/units.ts';

/**
 * A WAV file of 16-bit PCM (RIFF/WAVE, format tag 1), all integers little-endian, samples of the
 * channels in turn. Samples beyond full scale are held at full scale.
 * @param channels one list of samples each, -1 to 1, all of the same length; at least one
 * @param sampleRate samples a second
 * @throws RangeError when there is no channel or their lengths differ: that is a bug, not input.
 * @example
 * wav16([[0, 1], [0, -1]], 48000).length // => 44 + 2 * 2 * 2
 */
export const wav16 = (channels: readonly ArrayLike<number>[], sampleRate: Hertz): Uint8Array => {
  const [first] = channels;
  if (first === undefined || channels.some(channel => channel.length !== first.length)) {
    throw new RangeError('a WAV file needs channels of one length');
  }
  const frame = channels.length * 2;
  const size = first.length * frame;
  const bytes = new Uint8Array(44 + size);
  const view = new DataView(bytes.buffer);
  const name = (at: number, text: string): void => {
    for (let i = 0; i < 4; i += 1) view.setUint8(at + i, text.charCodeAt(i));
  };
  name(0, 'RIFF');
  view.setUint32(4, 36 + size, true);
  name(8, 'WAVE');
  name(12, 'fmt ');
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, channels.length, true);
  view.setUint32(24, sampleRate, true);
  view.setUint32(28, sampleRate * frame, true);
  view.setUint16(32, frame, true);
  view.setUint16(34, 16, true);
  name(36, 'data');
  view.setUint32(40, size, true);
  channels.forEach((channel, c) => {
    for (let i = 0; i < first.length; i += 1) {
      const sample = Math.max(-1, Math.min(1, channel[i] ?? 0));
      view.setInt16(44 + i * frame + c * 2, Math.round(sample * 32767), true);
    }
  });
  return bytes;
};
