/**
 * The limiter at the end: no sample leaves louder than `CEILING`, whatever comes in. Between samples sound may peak
 * higher; the ceiling is low enough that it stays under -1 dB of full scale there too.
 *
 * A curve rather than a compressor, because a browser's compressor looks 6 ms ahead and would make
 * every live strike that much later. Below `KNEE` sound passes untouched; between, it bends.
 */
export const CEILING = 0.78;
export const KNEE = 0.6;
/** The curve covers inputs up to this size; a wave shaper holds its end value beyond. */
export const WIDEST = 8;

/** One sample through the limiter. @example limited(0.5) // 0.5 */
export const limited = (sample: number): number => {
  const size = Math.abs(sample);
  if (size <= KNEE) return sample;
  const room = CEILING - KNEE;
  return Math.sign(sample) * (KNEE + room * Math.tanh((size - KNEE) / room));
};

/** The curve for a WaveShaperNode whose input has been divided by `WIDEST`. */
const curve = (): Float32Array<ArrayBuffer> => {
  const points = 16385;
  return Float32Array.from({ length: points }, (_, i) => limited(WIDEST * ((2 * i) / (points - 1) - 1)));
};

/** The limiter as a pair of nodes: feed `input`, connect `output`. */
export const createCeiling = (context: BaseAudioContext): { input: AudioNode; output: AudioNode } => {
  const input = new GainNode(context, { gain: 1 / WIDEST });
  const output = new WaveShaperNode(context, { curve: curve(), oversample: 'none' });
  input.connect(output);
  return { input, output };
};
