import type { Key } from '../foundation/key.ts';
import { augment, diminish } from './augment.ts';
import { fragment } from './fragment.ts';
import { invertByScale, invertBySemitone } from './invert.ts';
import type { Passage } from './motif.ts';
import { retrograde } from './retrograde.ts';
import { transposeByOctaves, transposeBySemitones, transposeBySteps } from './transpose.ts';
import type { Treatment } from './treatment.ts';
import { ornament, varyLengths, varyPitches } from './vary.ts';

/**
 * One treatment applied to a passage in a key.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * applyTreatment(idea, key('C'), { kind: 'octave', octaves: 1 }).notes[0].degree // => 35
 */
export const applyTreatment = (passage: Passage, k: Key, treatment: Treatment): Passage => {
  switch (treatment.kind) {
    case 'transpose':
      return treatment.by === 'scale'
        ? transposeBySteps(passage, treatment.steps)
        : transposeBySemitones(passage, k, treatment.steps);
    case 'octave':
      return transposeByOctaves(passage, k, treatment.octaves);
    case 'augment':
      return augment(passage, treatment.factor);
    case 'diminish':
      return diminish(passage, treatment.factor);
    case 'invert':
      return treatment.by === 'scale'
        ? invertByScale(passage, treatment.axis)
        : invertBySemitone(passage, k, treatment.axis);
    case 'retrograde':
      return retrograde(passage);
    case 'fragment':
      return fragment(passage, treatment.from, treatment.to);
    case 'pitches':
      return varyPitches(passage, treatment.from);
    case 'lengths':
      return varyLengths(passage, treatment.from);
    case 'ornament':
      return ornament(passage, treatment.ornaments);
  }
};

/**
 * A chain of treatments, first one first.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * applyChain(idea, key('C'), [{ kind: 'retrograde' }, { kind: 'retrograde' }]) // => idea
 */
export const applyChain = (passage: Passage, k: Key, chain: readonly Treatment[]): Passage =>
  chain.reduce((so, treatment) => applyTreatment(so, k, treatment), passage);
