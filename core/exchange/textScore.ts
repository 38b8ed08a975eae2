import { type NameStyle, valueName } from '../foundation/noteValue.ts';
import { pitchName } from '../foundation/pitch.ts';
import { keyName } from '../foundation/key.ts';
import { showMetre } from '../foundation/metre.ts';
import type { Score, ScoreBar, ScoreSymbol } from '../score/score.ts';

const symbolText = (bar: ScoreBar, symbol: ScoreSymbol, style: NameStyle): string => {
  if (symbol.wholeBar === true) return 'whole-bar rest';
  const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
  const value = valueName(symbol.value, style);
  const named =
    tuplet === undefined
      ? value
      : tuplet.actual === 3
        ? `triplet ${value}`
        : `${value} (${String(tuplet.actual)} in the time of ${String(tuplet.normal)})`;
  if (symbol.pitches.length === 0) return `${named} rest`;
  const pitches = symbol.pitches.map(p => pitchName(p.spelled)).join(' and ');
  return `${pitches} ${named}${symbol.tiedTo ? ', tied' : ''}`;
};

/** One bar in words. @example "Bar 2: E5 quaver, tied; E5 crotchet; crotchet rest" */
export const barText = (bar: ScoreBar, style: NameStyle = 'british'): string =>
  `${bar.number === 0 ? 'Upbeat' : `Bar ${String(bar.number)}`}: ${bar.symbols.map(s => symbolText(bar, s, style)).join('; ')}`;

/** The whole score in words, part by part; says what the page shows, for screen readers and for tests. */
export const textScore = (score: Score, style: NameStyle = 'british'): readonly string[] => [
  `${keyName(score.key)}, ${showMetre(score.metre)}`,
  ...score.parts.flatMap(part => [part.name, ...part.bars.map(bar => barText(bar, style))]),
];
