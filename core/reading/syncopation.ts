/**
 * Measures of syncopation, for finding ideas by rhythm and for checking that the reader keeps what was
 * played off the beat. A rhythm is its onsets (0 to steps − 1, rising) in a cycle of steps.
 * Source: Gómez, Melvin, Rappaport, Toussaint 2005, "Mathematical measures of syncopation"; Keith, and
 * Longuet-Higgins & Lee 1984, as described there.
 */
export interface Cycle {
  readonly onsets: readonly number[];
  readonly steps: number;
}

const gapAfter = ({ onsets, steps }: Cycle, i: number): number => {
  const at = onsets[i] ?? 0;
  const next = onsets[i + 1];
  return next === undefined ? (onsets[0] ?? 0) + steps - at : next - at;
};

/**
 * Keith's measure as a count: strikes whose place does not suit the power of two in their length.
 * @example keith({ onsets: [0, 3, 6, 10, 12], steps: 16 }) // 2
 */
export const keith = (cycle: Cycle): number =>
  cycle.onsets.reduce((count, at, i) => {
    const power = 2 ** Math.floor(Math.log2(gapAfter(cycle, i)));
    return at % power === 0 ? count : count + 1;
  }, 0);

/**
 * Weighted note-to-beat distance, exact as [sum, notes]: each note counts w over its distance (in
 * beats) from the nearest beat; w is 2 when it is held over the next beat and ends before the one
 * after, else 1; a note on a beat counts nothing. Four beats to the cycle.
 * @returns the mean as a number; the son clave gives 14/5
 */
export const noteToBeat = (cycle: Cycle): number => {
  const beat = cycle.steps / 4;
  const total = cycle.onsets.reduce((sum, at, i) => {
    const after = at % beat;
    if (after === 0) return sum;
    const distance = Math.min(after, beat - after) / beat;
    const end = at + gapAfter(cycle, i);
    const nextBeat = at - after + beat;
    const weight = end > nextBeat && end < nextBeat + beat ? 2 : 1;
    return sum + weight / distance;
  }, 0);
  return total / cycle.onsets.length;
};

const common = (a: number, b: number): number => (b === 0 ? a : common(b, a % b));

/** Off-beatness: strikes on steps that no even division of the cycle (other than into single steps) reaches. */
export const offBeatness = ({ onsets, steps }: Cycle): number =>
  onsets.filter(at => common(at, steps) === 1).length;

/** Longuet-Higgins & Lee weights of a binary cycle: 0 on the first step, one less for every halving. */
const weightOf = (step: number, steps: number): number => {
  const depth = Math.log2(steps);
  for (let k = 0; k <= depth; k++) if (step % 2 ** (depth - k) === 0) return -k;
  return -depth;
};

/**
 * Longuet-Higgins & Lee, summed over notes: by how much the strongest silent step before the next
 * strike is stronger than the note's own. Steps: a power of two.
 */
export const longuetHigginsLee = (cycle: Cycle): number => {
  const { onsets, steps } = cycle;
  return onsets.reduce((sum, at, i) => {
    let strongest = -Infinity;
    for (let k = 1; k < gapAfter(cycle, i); k++)
      strongest = Math.max(strongest, weightOf((at + k) % steps, steps));
    return sum + Math.max(0, strongest - weightOf(at, steps));
  }, 0);
};
