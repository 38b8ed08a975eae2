import { isWritable, type Key } from '../foundation/key.ts';
import { failed, ok, type Result } from '../foundation/result.ts';
import type { BarNumber } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import { FARTHEST_KEY, type KeyChange, withKey, withoutKey } from '../plan/keys.ts';
import type { Plan } from '../plan/plan.ts';
import { outOfRange } from './refusals.ts';
import { letteredAt } from './letters.ts';
import { lastBar } from './sections.ts';

/** Another key: everything moved so many semitones from how it was at the beginning, or the signature alone. */
export type OtherKey = { readonly moved: number } | { readonly signature: Key };

/**
 * A plan with another key from a bar (from 1) on, and a rehearsal letter there. A key that holds there anyway
 * takes away the change that was at this bar. Problems: 'out-of-range' for a bar in which nothing sounds, the first
 * one, an interval over an octave, and a signature of more than seven signs.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(4), notes: [] };
 * const changed = changeKey(idea, firstPlan('xylophone', 90), 3, { moved: 7 });
 * changed.ok && changed.value.keys // => [{ bar: 2, moved: 7 }]
 * changed.ok && changed.value.letters // => [{ bar: 2, letter: 'A' }]
 * changeKey(idea, firstPlan('xylophone', 90), 1, { moved: 7 }).ok // => false
 */
export const changeKey = (motif: Motif, plan: Plan, bar: BarNumber, to: OtherKey): Result<Plan> => {
  const last = lastBar(motif, plan);
  if (last < 2) return failed(outOfRange('it when the piece has two bars or more'));
  if (!Number.isInteger(bar) || bar < 2 || bar > last)
    return failed(outOfRange(`a bar from 2 to ${String(last)}`));
  if ('signature' in to ? !isWritable(to.signature) : !isInterval(to.moved))
    return failed(outOfRange('an interval up to an octave, or a key with no more than seven signs'));
  const change: KeyChange = { bar: bar - 1, ...to };
  const { keys = [], ...rest } = plan;
  const next = withKey(motif, keys, change);
  const keyed = next.length === 0 ? rest : { ...rest, keys: next };
  if (!next.includes(change) || plan.letters.some(l => l.bar === change.bar)) return ok(keyed);
  return ok({ ...keyed, letters: letteredAt([...plan.letters.map(l => l.bar + 1), bar]) });
};

/**
 * A plan without the change of key at a bar (from 1); its letter stays.
 * @example
 * const plan = { ...firstPlan('xylophone', 90), keys: [{ bar: 2, moved: 7 }] };
 * withoutKeyAt(plan, 3) // => firstPlan('xylophone', 90)
 * withoutKeyAt(plan, 2).keys // => [{ bar: 2, moved: 7 }]
 */
export const withoutKeyAt = ({ keys = [], ...plan }: Plan, bar: BarNumber): Plan => {
  const others = withoutKey(keys, bar - 1);
  return others.length === 0 ? plan : { ...plan, keys: others };
};

const isInterval = (semitones: number): boolean =>
  Number.isInteger(semitones) && Math.abs(semitones) <= FARTHEST_KEY;
