import { key } from '../foundation/key.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { Score, ScorePart, WrittenPitch } from './score.ts';

/** The middle line of the treble clef. */
const LINE = { letter: 'B', alter: 0, octave: 4 } as const;

const onLine = ({ ref }: WrittenPitch): WrittenPitch => ({ spelled: LINE, ref });

const isOnOnePitch = ({ bars }: ScorePart): boolean => {
  const [first, ...more] = bars.flatMap(bar =>
    bar.symbols.flatMap(s =>
      s.pitches.flatMap(p => [p.spelled, ...(p.gliss === undefined ? [] : [p.gliss.to])].map(midiOf)),
    ),
  );
  return first !== undefined && more.every(pitch => pitch === first);
};

/**
 * The score of a rhythm without pitches: each part that strikes one bar alone has one line. What sounds stays as it is;
 * a part that was given several pitches, as a sequence has, keeps its five.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 61, strike: 0, doubt: 0 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [0, 0.5], firstBeat: 0 };
 * withRhythmLines(scoreOfReading(reading, key('A'), 'xylophone', 'Idea', 'Heron')).parts[0].lines // => 1
 */
export const withRhythmLines = (score: Score): Score => ({
  ...score,
  parts: score.parts.map(part => (isOnOnePitch(part) ? { ...part, lines: 1 } : part)),
});

const drawnOnLine = (part: ScorePart): ScorePart => ({
  ...part,
  clef: 'treble',
  bars: part.bars.map(bar => ({
    ...bar,
    symbols: bar.symbols.map(({ grace, ruff, ...symbol }) => ({
      ...symbol,
      pitches: symbol.pitches.slice(0, 1).map(onLine),
      ...(grace === undefined ? {} : { grace: [LINE] }),
      ...(ruff === undefined ? {} : { ruff: ruff.map(() => LINE) }),
    })),
  })),
});

/**
 * A score as it is drawn: what is written on one line has every note there, and a page of such parts alone has no
 * signature (common practice, no source). For the page alone: what sounds and what is handed on has its pitches.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 61, strike: 0, doubt: 0 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [0, 0.5], firstBeat: 0 };
 * const { parts } = onTheirLines(withRhythmLines(scoreOfReading(reading, key('A'), 'xylophone', 'Idea', 'Heron')));
 * parts[0].bars[0].symbols[0].pitches // => [{ spelled: { letter: 'B', alter: 0, octave: 4 }, ref: '0' }]
 */
export const onTheirLines = (score: Score): Score => {
  if (score.parts.every(part => part.lines === undefined)) return score;
  const parts = score.parts.map(part => (part.lines === 1 ? drawnOnLine(part) : part));
  const { keys: _, ...rest } = score;
  return parts.every(part => part.lines === 1) ? { ...rest, key: key('C'), parts } : { ...score, parts };
};
