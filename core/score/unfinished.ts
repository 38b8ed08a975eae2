import type { Score, ScoreBar } from './score.ts';

/** A bar up to its last note: nobody knows yet whether silence or a note comes next. */
const upToLastNote = (bar: ScoreBar): ScoreBar => {
  const last = bar.symbols.map(s => s.pitches.length > 0).lastIndexOf(true);
  return { ...bar, symbols: bar.symbols.slice(0, last + 1) };
};

/**
 * The last bars of a score that is still being written: no rests after the last note, and only so many bars.
 * @param most bars at most, 1 or more
 */
export const lastBars = (score: Score, most: number): Score => {
  const parts = score.parts.map(part => {
    const end = part.bars.map(bar => bar.symbols.some(s => s.pitches.length > 0)).lastIndexOf(true) + 1;
    const bars = part.bars.slice(Math.max(0, end - most), end);
    return { ...part, bars: bars.map((bar, i) => (i === bars.length - 1 ? upToLastNote(bar) : bar)) };
  });
  return {
    ...score,
    parts,
    barCount: Math.max(0, ...parts.map(p => p.bars.length)),
    brackets: [],
    letters: [],
    unfinished: true,
  };
};
