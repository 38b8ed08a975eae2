import type { Treatment } from '../motif/treatment.ts';
import { semitonesApart, stepsApart } from './intervals.ts';

/** Treatments that only move a passage up or down. */
type Move = Extract<Treatment, { kind: 'transpose' | 'octave' }>;

/**
 * Whether a treatment only moves, leaving shape and rhythm.
 * @example
 * isMove({ kind: 'octave', octaves: 1 }) // => true
 */
export const isMove = (t: Treatment): t is Move => t.kind === 'transpose' || t.kind === 'octave';

/**
 * Whether a treatment makes a variation: alike, and not the same.
 * @example
 * isVariation({ kind: 'retrograde' }) // => false
 */
export const isVariation = (t: Treatment): boolean =>
  t.kind === 'pitches' || t.kind === 'lengths' || t.kind === 'ornament';

/**
 * One treatment in trade words, for a scale of so many notes to the octave (7).
 * @example
 * treatmentName({ kind: 'transpose', by: 'scale', steps: 2 }) // => 'a third higher'
 */
export const treatmentName = (t: Treatment, size = 7): string => {
  switch (t.kind) {
    case 'transpose':
      return t.by === 'scale' ? stepsApart(t.steps, size) : semitonesApart(t.steps);
    case 'octave':
      return stepsApart(t.octaves * 7, 7);
    case 'augment':
      return `augmentation${factor(t.factor)}`;
    case 'diminish':
      return `diminution${factor(t.factor)}`;
    case 'invert':
      return t.by === 'scale' ? 'inversion' : 'real inversion';
    case 'retrograde':
      return 'retrograde';
    case 'fragment':
      return 'fragment';
    case 'pitches':
      return 'variation, same rhythm';
    case 'lengths':
      return 'variation, same notes';
    case 'ornament':
      return 'variation, ornamented';
  }
};

const factor = (f: { n: number; d: number }): string =>
  f.n === 2 && f.d === 1 ? '' : ` by ${f.d === 1 ? String(f.n) : `${String(f.n)}/${String(f.d)}`}`;

/** Two moves as one, where one says as much; undefined where the second is of another kind. */
const together = (a: Treatment | undefined, b: Treatment, size: number): Treatment | undefined => {
  if (a === undefined || !isMove(a) || !isMove(b)) return undefined;
  const by = a.kind === 'transpose' ? a.by : b.kind === 'transpose' ? b.by : 'scale';
  const octave = by === 'scale' ? size : 12;
  if (a.kind === 'transpose' && b.kind === 'transpose' && a.by !== b.by) return undefined;
  const steps = (t: Move): number => (t.kind === 'octave' ? t.octaves * octave : t.steps);
  return { kind: 'transpose', by, steps: steps(a) + steps(b) };
};

/** A chain with moves that follow each other taken as one, and none that comes to nothing. */
const joined = (chain: readonly Treatment[], size: number): readonly Treatment[] => {
  const all: Treatment[] = [];
  for (const t of chain) {
    const both = together(all.at(-1), t, size);
    if (both === undefined) all.push(t);
    else all[all.length - 1] = both;
  }
  return all.filter(t => t.kind !== 'transpose' || t.steps !== 0);
};

/**
 * Names of a chain in a scale of so many notes; inversion and retrograde together have a name of their own.
 * @example
 * chainNames([{ kind: 'retrograde' }, { kind: 'invert', by: 'scale' }], 7) // => ['retrograde inversion']
 */
export const chainNames = (given: readonly Treatment[], size: number): readonly string[] => {
  const chain = joined(given, size);
  const turn = chain.findIndex(t => t.kind === 'invert' && t.by === 'scale');
  const back = chain.findIndex(t => t.kind === 'retrograde');
  if (turn < 0 || back < 0 || Math.abs(back - turn) !== 1) return chain.map(t => treatmentName(t, size));
  const first = Math.min(turn, back);
  return [
    ...chainNames(chain.slice(0, first), size),
    'retrograde inversion',
    ...chainNames(chain.slice(first + 2), size),
  ];
};
