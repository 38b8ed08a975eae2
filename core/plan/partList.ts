import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { type MalletId, unusualMallet } from '../instruments/mallets.ts';
import { freed } from './lacks.ts';
import type { Part, Plan } from './plan.ts';

/** Longest name of a part, in characters. */
export const LONGEST_NAME = 24;

/**
 * What a part is called on the page: its own name, or its instrument's; numbered where two share one.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * partName(plan, plan.parts[0]) // => 'Xylophone'
 */
export const partName = (plan: Pick<Plan, 'parts'>, part: Part): string => {
  const own = part.name?.trim();
  if (own !== undefined && own !== '') return own;
  const { name } = INSTRUMENTS[part.instrument];
  const alike = plan.parts.filter(p => p.instrument === part.instrument && (p.name ?? '') === '');
  return alike.length < 2 ? name : `${name} ${String(alike.findIndex(p => p.id === part.id) + 1)}`;
};

/**
 * A part's name as it stands after 'the' in a sentence: small letters, and no second 'the' for a part called 'The echo'.
 * @example
 * afterThe('The echo') // => 'echo'
 */
export const afterThe = (name: string): string => name.toLowerCase().replace(/^the\s+(?=\S)/, '');

/**
 * The short name printed before later systems.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * partShort(plan, plan.parts[0]) // => 'Xyl.'
 */
export const partShort = (plan: Pick<Plan, 'parts'>, part: Part): string => {
  const own = part.name?.trim();
  if (own !== undefined && own !== '') return own.length <= 6 ? own : `${own.slice(0, 5)}.`;
  const { short } = INSTRUMENTS[part.instrument];
  const number = /\d+$/.exec(partName(plan, part))?.[0];
  return number === undefined ? short : `${short} ${number}`;
};

const changePart = (plan: Plan, id: string, to: (part: Part) => Part): Plan => ({
  ...plan,
  parts: plan.parts.map(p => (p.id === id ? to(p) : p)),
});

/**
 * A part with a name of its own; an empty one gives it its instrument's name again.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * partName(plan, renamePart(plan, 'p1', 'Wind').parts[0]) // => 'Wind'
 */
export const renamePart = (plan: Plan, id: string, name: string): Plan =>
  changePart(plan, id, ({ name: _, ...part }) => {
    const own = name.trim().slice(0, LONGEST_NAME);
    return own === '' ? part : { ...part, name: own };
  });

const withMallet = ({ mallet: _, ...part }: Part, asked: MalletId | undefined): Part => {
  const mallet = unusualMallet(part.instrument, asked);
  return mallet === undefined ? part : { ...part, mallet };
};

/**
 * What a part is struck with; the usual mallets where its bars do not bear these.
 * @example
 * const plan = firstPlan('glockenspiel', 90);
 * giveMallet(plan, 'p1', 'brass').parts[0].mallet // => 'brass'
 * giveMallet(plan, 'p1', 'soft-yarn') // => plan
 */
export const giveMallet = (plan: Plan, id: string, mallet: MalletId): Plan =>
  changePart(plan, id, part => withMallet(part, mallet));

/**
 * A part on another instrument; its written notes stay, and its mallets where the bars bear them and they are not the
 * usual ones there.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * giveInstrument(plan, 'p1', 'marimba').parts[0].instrument // => 'marimba'
 */
export const giveInstrument = (plan: Plan, id: string, instrument: InstrumentId): Plan =>
  changePart(plan, id, part => withMallet({ ...part, instrument }, part.mallet));

/**
 * Loudness of a part against the others, in dB from -24 to +6.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * balancePart(plan, 'p1', 20).parts[0].balance // => 6
 */
export const balancePart = (plan: Plan, id: string, db: number): Plan =>
  changePart(plan, id, ({ balance: _, ...part }) => {
    const balance = Math.round(Math.min(6, Math.max(-24, db)));
    return balance === 0 ? part : { ...part, balance };
  });

/**
 * A part one place up (-1) or down (+1) the page.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * shiftPart(plan, 'p1', 1) === plan // => true
 */
export const shiftPart = (plan: Plan, id: string, by: 1 | -1): Plan => {
  const from = plan.parts.findIndex(p => p.id === id);
  const to = from + by;
  const part = plan.parts[from];
  if (part === undefined || to < 0 || to >= plan.parts.length) return plan;
  const others = plan.parts.filter(p => p.id !== id);
  return { ...plan, parts: [...others.slice(0, to), part, ...others.slice(to)] };
};

/**
 * A part taken away with everything it plays; the last one stays.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * removePart(plan, 'p1') === plan // => true
 */
export const removePart = (plan: Plan, id: string): Plan => {
  if (plan.parts.length < 2) return plan;
  return freed({
    ...plan,
    parts: plan.parts.filter(p => p.id !== id),
    statements: plan.statements.filter(s => s.part !== id),
  });
};
