import { letterName } from '../../core/foundation/pitch.ts';
import type { Metre } from '../../core/foundation/metre.ts';
import { countOf } from '../../core/score/counts.ts';
import { placeInBar } from '../../core/score/metreAt.ts';
import type { ScoreBar, ScoreSymbol } from '../../core/score/score.ts';
import { syllableOf } from '../../core/score/syllables.ts';

/** What may stand under the notes, one row each. */
export type Under = 'letters' | 'counts' | 'syllables';

/** Size of the rows' text, in stave units: 8 pt at a 7 mm stave. */
export const TEXT_SIZE = 15;
export const ROW = 19;

/** The text of one row under one symbol; empty for none. */
export const underText = (row: Under, m: Metre, bar: ScoreBar, symbol: ScoreSymbol): string => {
  if (symbol.pitches.length === 0) return '';
  if (row === 'syllables') return syllableOf(m, bar, symbol);
  if (symbol.tiedFrom) return '';
  return row === 'counts'
    ? countOf(m, placeInBar(m, bar, symbol.onset))
    : symbol.pitches.map(p => letterName(p.spelled)).join(' ');
};

/** Long syllables begin under the head, short text stands in its middle. */
export const startsAtHead = (text: string): boolean => text.length > 3;

/** About how wide text is, in stave units. */
export const textWidth = (text: string): number => text.length * TEXT_SIZE * 0.56;
