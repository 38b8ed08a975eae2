import { add, compare, type Fraction, larger, less } from '../foundation/fraction.ts';
import type { ScorePart, Stretch } from './score.ts';

/** Where notes under a fermata are written, in order; those of several parts that meet are one. */
export const holdsIn = (parts: readonly Pick<ScorePart, 'bars'>[]): readonly Stretch[] => {
  const all = parts
    .flatMap(part => part.bars.flatMap(bar => bar.symbols))
    .filter(symbol => symbol.fermata === true)
    .map(symbol => ({ from: symbol.onset, to: add(symbol.onset, symbol.duration) }))
    .sort((a, b) => compare(a.from, b.from));
  const apart: { from: Fraction; to: Fraction }[] = [];
  for (const hold of all) {
    const last = apart.at(-1);
    if (last !== undefined && less(hold.from, last.to)) last.to = larger(last.to, hold.to);
    else apart.push({ ...hold });
  }
  return apart;
};
