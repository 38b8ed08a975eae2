/**
 * Whether strikes were played to the beats of the file they lie in. A recorder that knows no beat writes
 * an even 120 a minute, or no tempo at all, which a file player takes for the same; whether anybody heard
 * that beat, only the strikes can say.
 */

/** Where strikes fall in a beat that somebody keeps to, in beats, and how often (our choice, near what music does). */
const POSITIONS: readonly (readonly [position: number, share: number])[] = [
  [0, 0.4],
  [1 / 2, 0.25],
  [1 / 4, 0.1],
  [3 / 4, 0.1],
  [1 / 3, 0.075],
  [2 / 3, 0.075],
];
/** How far somebody's strikes spread about the beat, in seconds: as the reader has it. */
const SPREADS: readonly number[] = [0.011, 0.016, 0.023, 0.033, 0.047];
/** How late all strikes may be, in seconds (device and player together), and how much it speaks for each (our choice). */
const LATE: readonly (readonly [late: number, share: number])[] = [
  [-0.04, 0.1],
  [-0.02, 0.2],
  [0, 0.3],
  [0.02, 0.2],
  [0.04, 0.1],
  [0.06, 0.1],
];
/** Strikes nearer than this are one moment: the bars of a chord say one thing, not two. Seconds. */
const ONE_MOMENT = 0.03;
/**
 * How many times likelier strikes are on a file's own beats (halves, thirds and quarters of them too) than
 * anywhere. A strike at nought itself says nothing: many recorders begin with the first strike.
 * By Markov's inequality strikes that know nothing of the beat come to x or more at most once in x times.
 * @param onsets in seconds from the file's beginning, rising
 * @param beat length of a beat, in seconds, above 0
 * @returns 0 or more; 1 where there is nothing to tell it by
 * @example
 * likelierOnGrid([0.5, 1, 1.25, 1.5, 2, 2.5, 2.75, 3], 0.5) > 100 // => true
 * likelierOnGrid([0.71, 1.33, 1.64, 1.95, 2.57, 2.88, 3.19], 0.5) > 1 // => false
 */
export const likelierOnGrid = (onsets: readonly number[], beat: number): number => {
  const moments = onsets.filter(
    (at, i) => at > 0 && (i === 0 || at - (onsets[i - 1] ?? -Infinity) >= ONE_MOMENT),
  );
  let ratio = 0;
  for (const spread of SPREADS) {
    for (const [late, share] of LATE) {
      let logarithm = 0;
      for (const at of moments) logarithm += Math.log(densityAt((at - late) / beat, spread / beat));
      ratio += (share / SPREADS.length) * Math.exp(Math.min(logarithm, 700));
    }
  }
  return ratio;
};

/** How dense strikes are at a place, 1 where they fall anywhere; place and spread in beats. */
const densityAt = (place: number, spread: number): number => {
  let density = 0;
  for (const [position, share] of POSITIONS) {
    const off = place - position - Math.round(place - position);
    density += (share * Math.exp(-0.5 * (off / spread) ** 2)) / (spread * Math.sqrt(2 * Math.PI));
  }
  return density;
};
