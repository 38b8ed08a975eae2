import { add, type Fraction } from '../foundation/fraction.ts';
import type { ScorePart, Stretch } from './score.ts';

/** Where the pedal of a part is down, in order; what is not let go holds to nowhere and is left out. */
export const pedalsIn = (part: Pick<ScorePart, 'bars'>): readonly Stretch[] => {
  const stretches: Stretch[] = [];
  let from: Fraction | undefined;
  for (const symbol of part.bars.flatMap(bar => bar.symbols)) {
    if (symbol.pedal === true) from = symbol.onset;
    if (symbol.pedalEnds !== true || from === undefined) continue;
    stretches.push({ from, to: add(symbol.onset, symbol.duration) });
    from = undefined;
  }
  return stretches;
};
