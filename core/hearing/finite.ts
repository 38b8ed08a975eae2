/** Beyond this no converter goes: a sample so great was never sound. Full scale is 1. */
const GREATEST = 1e6;

const isSound = (sample: number): boolean => Math.abs(sample) <= GREATEST;

/**
 * Samples in which whatever is no sound (not a number, infinite, beyond any converter) is silence: whoever remembers
 * what was heard would be deaf for ever after one such sample. The same list where there is none.
 * @example
 * [...finite(Float32Array.from([0.5, NaN, -Infinity, 0.25]))] // => [0.5, 0, 0, 0.25]
 */
export const finite = (samples: Float32Array): Float32Array =>
  samples.every(isSound) ? samples : samples.map(sample => (isSound(sample) ? sample : 0));
