import { fraction } from '../foundation/fraction.ts';
import { failed, type Problem } from '../foundation/result.ts';
import { grow } from '../growing/grow.ts';
import type { Grown, Growth, OnConflict } from '../growing/growth.ts';
import { nearestSpeed } from '../growing/nearestSpeed.ts';
import type { Motif } from '../motif/motif.ts';
import { type Changes, MOST_KEYS, MOST_METRES } from '../plan/keys.ts';
import type { Plan } from '../plan/plan.ts';
import { scoreOfPlan } from './fromPlan.ts';
import { isReadable, isWrittenExactly } from './writable.ts';

const FACTORS = [fraction(3, 2), fraction(2), fraction(3), fraction(4)];
const FACTOR_WORDS = ['one and a half times', 'two times', 'three times', 'four times'];

/** What cannot be read is refused, with the nearest speed that can be where there is one. */
const tooFine = (offer: ReturnType<typeof nearestSpeed>): Problem => {
  const word = offer === undefined ? undefined : FACTOR_WORDS[FACTORS.indexOf(offer.factor)];
  const speed = offer?.kind === 'augment' ? 'slower' : 'faster';
  return {
    kind: 'out-of-range',
    what: 'Some notes would become too short, or too uneven, to be written.',
    kept: 'Nothing was changed.',
    next:
      word === undefined
        ? 'Choose a smaller number, or leave one of the changes out.'
        : `Choose “${word}” ${speed}: that can be read.`,
  };
};

const hasTooMany = ({ keys = [], metres = [] }: Changes): boolean =>
  keys.length > MOST_KEYS || metres.length > MOST_METRES;

const tooMany = (): Problem => ({
  kind: 'out-of-range',
  what: `A piece has ${String(MOST_KEYS)} changes of key and ${String(MOST_METRES)} of metre at the most.`,
  kept: 'Nothing was changed.',
  next: 'Take a change away first.',
});

/**
 * One step of growing a piece, as `grow` does it, whose page can be written and read. Problems: those of `grow`, and
 * 'out-of-range' for more changes than are kept, and for notes too short or too uneven, unless the page had such before, because its motif was changed
 * under it.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1, 4), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const faster = factor => ({ kind: 'change', statement: 's1', treatments: [{ kind: 'diminish', factor }] });
 * writtenStep(idea, firstPlan('xylophone', 90), faster(fraction(2))).ok // => true
 * writtenStep(idea, firstPlan('xylophone', 90), faster(fraction(64))).ok // => false
 */
export const writtenStep = (motif: Motif, plan: Plan, step: Growth, onConflict?: OnConflict): Grown => {
  const isWritten = (tried: Plan): boolean => {
    const score = scoreOfPlan(motif, tried, '', '');
    return isWrittenExactly(score) && isReadable(score);
  };
  const grown = grow(motif, plan, step, onConflict);
  if (grown.ok && hasTooMany(grown.value.plan) && !hasTooMany(plan)) return failed(tooMany());
  if (!grown.ok || isWritten(grown.value.plan) || !isWritten(plan)) return grown;
  const works = (other: Growth): boolean => {
    const tried = grow(motif, plan, other, onConflict);
    return tried.ok && isWritten(tried.value.plan);
  };
  return failed(tooFine(nearestSpeed(step, FACTORS, works)));
};
