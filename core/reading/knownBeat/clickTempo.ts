import { itemAt } from '../model/at.ts';
import { MOST_HALVINGS } from './constants.ts';
/** Middle gap of beat times, in seconds; 0 below two. */
const gapOf = (beats: readonly number[]): number =>
  beats.length < 2 ? 0 : (itemAt(beats, beats.length - 1) - itemAt(beats, 0)) / (beats.length - 1);

/**
 * The beats of a click counted twice as fast or as slow, where the tempo asked for is nearer to that;
 * the first beat stays the first. A click is exact, so other tempi than its halves and doubles change nothing.
 * @param beats rising, in seconds
 * @param tempo beats a minute
 * @example
 * clickCountedAt([0, 1, 2], 120) // => [0, 0.5, 1, 1.5, 2]
 * clickCountedAt([0, 1, 2], undefined) // => [0, 1, 2]
 */
export const clickCountedAt = (beats: readonly number[], tempo: number | undefined): readonly number[] => {
  const gap = gapOf(beats);
  if (tempo === undefined || gap <= 0) return beats;
  const times = Math.max(-MOST_HALVINGS, Math.min(MOST_HALVINGS, Math.round(Math.log2((tempo * gap) / 60))));
  if (times < 0) {
    const every = 2 ** -times;
    const kept = beats.filter((_, i) => i % every === 0);
    const last = kept.at(-1) ?? 0;
    return kept.length < 2 ? [...kept, last + gap * every] : kept;
  }
  const parts = 2 ** times;
  return beats.flatMap((at, i) => {
    const next = beats[i + 1];
    return next === undefined
      ? [at]
      : Array.from({ length: parts }, (_, k) => at + ((next - at) * k) / parts);
  });
};
