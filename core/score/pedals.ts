import { add, type Fraction } from '../foundation/fraction.ts';
import type { ScoreBar, ScorePart, ScoreSymbol, Stretch } from './score.ts';

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

/**
 * Bars with a pedal that goes down only when it is up, and up only when it is down: two statements that hold it over each
 * other, as no card makes them but a file may say, hold it together from the first sign to the last.
 */
export const pedalsInTurn = (bars: readonly ScoreBar[]): readonly ScoreBar[] => {
  const signed = bars.flatMap(bar => bar.symbols).filter(s => s.pedal === true || s.pedalEnds === true);
  if (signed.length === 0) return bars;
  const downs = new Set<ScoreSymbol>();
  const ups = new Set<ScoreSymbol>();
  let held = 0;
  let down: ScoreSymbol | undefined;
  let lastUp: ScoreSymbol | undefined;
  for (const symbol of signed) {
    if (symbol.pedal === true) {
      if (held === 0) [down, lastUp] = [symbol, undefined];
      held += 1;
    }
    if (symbol.pedalEnds !== true || held === 0) continue;
    held -= 1;
    lastUp = symbol;
    if (held > 0 || down === undefined) continue;
    downs.add(down);
    ups.add(symbol);
  }
  // Two that end together have one sign: what is still held then was let go with the last of them.
  if (held > 0 && down !== undefined && lastUp !== undefined) {
    downs.add(down);
    ups.add(lastUp);
  }
  return bars.map(bar => ({
    ...bar,
    symbols: bar.symbols.map(symbol => {
      if (symbol.pedal !== true && symbol.pedalEnds !== true) return symbol;
      const { pedal: _, pedalEnds: __, ...plain } = symbol;
      return {
        ...plain,
        ...(downs.has(symbol) ? { pedal: true as const } : {}),
        ...(ups.has(symbol) ? { pedalEnds: true as const } : {}),
      };
    }),
  }));
};
