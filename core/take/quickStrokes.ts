import { type DrawnLine, drawnLines } from './glissandi.ts';
import { type FastRun, fastRuns } from './fastRuns.ts';
import type { Take } from './take.ts';

/** Strokes too fast for notes of their own: one note each, with a sign. */
export interface QuickStrokes {
  readonly rolls: readonly FastRun[];
  readonly lines: readonly DrawnLine[];
}

export const NO_QUICK_STROKES: QuickStrokes = { rolls: [], lines: [] };

/**
 * What may be rolled, and what may be drawn over neighbouring bars; no strike is in two of them but as the target of a line.
 * @param keep strikes that are notes of their own
 * @example
 * const strikes = [0, 80, 160, 240, 320].map(ms => ({ at: ms / 1000, pitch: 60, velocity: 80 }));
 * quickStrokes({ strikes }).rolls // => [[0, 1, 2, 3, 4]]
 */
export const quickStrokes = (
  take: Pick<Take, 'strikes'>,
  keep: ReadonlySet<number> = new Set(),
): QuickStrokes => {
  const rolls = fastRuns(take, keep);
  return { rolls, lines: drawnLines(take, keep, new Set(rolls.flat())) };
};

/** Whether the same strikes are taken for rolls and lines, and the same for the targets of lines. */
export const sameQuick = (a: QuickStrokes, b: QuickStrokes): boolean =>
  a.rolls.length === b.rolls.length &&
  a.lines.length === b.lines.length &&
  a.lines.every((line, i) => line.target === b.lines[i]?.target);
