import type { BarIndex } from '../../../core/foundation/units.ts';
import type { Plan } from '../../../core/plan/plan.ts';

interface AtBar {
  readonly bar: BarIndex;
}

const changesOf = (plan: Plan): readonly AtBar[] => [
  ...plan.letters,
  ...(plan.tempi ?? []),
  ...(plan.keys ?? []),
  ...(plan.metres ?? []),
];

/** The first bar at which a letter, tempo, key or metre of two plans is not the same; undefined where all are. */
export const changedBar = (kept: Plan, tried: Plan): BarIndex | undefined => {
  const [before, after] = [kept, tried].map(plan => new Set(changesOf(plan).map(one => JSON.stringify(one))));
  const only = (of: Plan, without: ReadonlySet<string> | undefined): readonly AtBar[] =>
    changesOf(of).filter(one => without?.has(JSON.stringify(one)) !== true);
  const bars = [...only(kept, after), ...only(tried, before)].map(one => one.bar);
  return bars.length === 0 ? undefined : bars.reduce((a, b) => (b < a ? b : a));
};
