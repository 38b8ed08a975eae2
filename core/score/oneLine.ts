import { key } from '../foundation/key.ts';
import type { Score, WrittenPitch } from './score.ts';

/** The middle line of the treble clef. */
const LINE = { letter: 'B', alter: 0, octave: 4 } as const;

const onLine = ({ ref }: WrittenPitch): WrittenPitch => ({ spelled: LINE, ref });

/**
 * A rhythm as it is written where pitch does not count: every note on one line, without a signature (common practice,
 * no source). For the page alone: what sounds and what is handed on stays as it is.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 61, strike: 0, doubt: 0 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [0, 0.5], firstBeat: 0 };
 * const { parts } = onOneLine(scoreOfReading(reading, key('A'), 'xylophone', 'Idea', 'Heron'));
 * parts[0].lines // => 1
 * parts[0].bars[0].symbols[0].pitches // => [{ spelled: { letter: 'B', alter: 0, octave: 4 }, ref: '0' }]
 */
export const onOneLine = ({ keys: _, ...score }: Score): Score => ({
  ...score,
  key: key('C'),
  parts: score.parts.map(part => ({
    ...part,
    clef: 'treble',
    lines: 1,
    bars: part.bars.map(bar => ({
      ...bar,
      symbols: bar.symbols.map(({ grace, ruff, ...symbol }) => ({
        ...symbol,
        pitches: symbol.pitches.slice(0, 1).map(onLine),
        ...(grace === undefined ? {} : { grace: [LINE] }),
        ...(ruff === undefined ? {} : { ruff: ruff.map(() => LINE) }),
      })),
    })),
  })),
});
