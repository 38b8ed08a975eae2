import { equal, type Fraction, toNumber } from '../foundation/fraction.ts';
import type { Treatment } from '../motif/treatment.ts';
import type { Growth } from './growth.ts';

type Stretch = Extract<Treatment, { kind: 'augment' | 'diminish' }>;
const isStretch = (t: Treatment): t is Stretch => t.kind === 'augment' || t.kind === 'diminish';

/** The treatments a step does to what it states, and the step with others in their place. */
const treatmentsOf = (
  step: Growth,
):
  { readonly all: readonly Treatment[]; readonly put: (all: readonly Treatment[]) => Growth } | undefined => {
  if (step.kind === 'change' || step.kind === 'state')
    return { all: step.treatments, put: treatments => ({ ...step, treatments }) };
  if (step.kind === 'canon' || step.kind === 'imitation' || step.kind === 'second-part')
    return { all: step.also ?? [], put: also => ({ ...step, also }) };
  return undefined;
};

/**
 * Where a step makes notes nobody can read: the same stretching or squeezing by the nearest of other factors
 * that can be. Undefined where the step changes no speed, or none of them can.
 * @param factors what may be offered
 * @param works whether a step can be read
 * @example
 * const step = { kind: 'change', statement: 's1', treatments: [{ kind: 'diminish', factor: fraction(3) }] };
 * nearestSpeed(step, [fraction(2), fraction(4)], () => true) // => { kind: 'diminish', factor: fraction(4) }
 */
export const nearestSpeed = (
  step: Growth,
  factors: readonly Fraction[],
  works: (step: Growth) => boolean,
): Stretch | undefined => {
  const given = treatmentsOf(step);
  const wanted = given?.all.find(isStretch);
  if (given === undefined || wanted === undefined) return undefined;
  const far = (f: Fraction): number => Math.abs(Math.log(toNumber(f) / toNumber(wanted.factor)));
  return factors
    .filter(f => !equal(f, wanted.factor))
    .sort((a, b) => far(a) - far(b))
    .map((factor): Stretch => ({ ...wanted, factor }))
    .find(offer => works(given.put(given.all.map(t => (t === wanted ? offer : t)))));
};
