import { type NameStyle, valueName } from '../foundation/noteValue.ts';
import { pitchName } from '../foundation/pitch.ts';
import { keyName } from '../foundation/key.ts';
import { showMetre } from '../foundation/metre.ts';
import type { Swing } from '../reading/reading.ts';
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

/** The swing mark in words. @example swingName({ ratio: 2, unit: fraction(1, 8) }) // "swung quavers" */
export const swingName = (swing: Swing, style: NameStyle = 'british'): string =>
  `swung ${valueName({ base: swing.unit.d === 16 ? 16 : 8, dots: 0 }, style)}s`;

/** The whole score in words, part by part; says what the page shows, for screen readers and for tests. */
export const textScore = (score: Score, style: NameStyle = 'british'): readonly string[] => [
  [
    keyName(score.key),
    showMetre(score.metre),
    ...(score.swing === undefined ? [] : [swingName(score.swing, style)]),
  ].join(', '),
  ...score.parts.flatMap(part => [part.name, ...part.bars.map(bar => barText(bar, style))]),
];
