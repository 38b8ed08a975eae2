import { ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { Score, ScoreBar } from '../../core/score/score.ts';

/** A score of one part with these bars, in 4/4 and C where nothing else is said. */
export const scoreOfBars = (
  bars: readonly ScoreBar[],
  more: Partial<Score> = {},
  instrument: InstrumentId = 'vibraphone',
): Score => ({
  title: 'T',
  codeName: '',
  metre: metre(4, 4),
  key: key('C'),
  tempo: 90,
  upbeat: ZERO,
  barCount: bars.length,
  letters: [],
  brackets: [],
  parts: [{ id: 'p1', name: 'Vibraphone', short: 'Vib.', instrument, clef: 'treble', bars }],
  ...more,
});
