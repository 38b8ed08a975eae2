import type { Key } from '../foundation/key.ts';
import { augment, diminish } from './augment.ts';
import { fragment } from './fragment.ts';
import { invertByScale, invertBySemitone } from './invert.ts';
import type { Phrase } from './motif.ts';
import { retrograde } from './retrograde.ts';
import { transposeByOctaves, transposeBySemitones, transposeBySteps } from './transpose.ts';
import type { Treatment } from './treatment.ts';

/** One treatment applied to a phrase in a key. */
export const applyTreatment = (phrase: Phrase, k: Key, treatment: Treatment): Phrase => {
  switch (treatment.kind) {
    case 'transpose':
      return treatment.by === 'scale'
        ? transposeBySteps(phrase, treatment.steps)
        : transposeBySemitones(phrase, k, treatment.steps);
    case 'octave':
      return transposeByOctaves(phrase, k, treatment.octaves);
    case 'augment':
      return augment(phrase, treatment.factor);
    case 'diminish':
      return diminish(phrase, treatment.factor);
    case 'invert':
      return treatment.by === 'scale'
        ? invertByScale(phrase, treatment.axis)
        : invertBySemitone(phrase, k, treatment.axis);
    case 'retrograde':
      return retrograde(phrase);
    case 'fragment':
      return fragment(phrase, treatment.from, treatment.to);
  }
};

/** A chain of treatments, first one first. */
export const applyChain = (phrase: Phrase, k: Key, chain: readonly Treatment[]): Phrase =>
  chain.reduce((so, treatment) => applyTreatment(so, k, treatment), phrase);
