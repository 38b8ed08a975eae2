import { onTheirLines } from '../../core/score/oneLine.ts';
import type { Score } from '../../core/score/score.ts';
import { headWidth, margin } from './frame.ts';
import type { PageOptions } from './options.ts';
import { layOutSheet, type PageSystem } from './sheet.ts';
import { columnsOf, spaceBar } from './spacing.ts';

export type { PageOptions } from './options.ts';
export type { PageSystem } from './sheet.ts';
export { xOfPlace } from './system.ts';

/**
 * Draws a whole score as systems, one element each, into `host` (emptied first). The notation font
 * must be ready. Everything outside this folder works from the positions returned.
 */
export const drawScore = (score: Score, host: HTMLElement, options: PageOptions): readonly PageSystem[] => {
  const sheet = layOutSheet(score, host, options);
  return sheet.draw(sheet.systems.map((_, i) => i)).systems;
};

/** Width a score needs to stand on one line without names, in stave units. */
export const widthOnOneLine = (given: Score): number => {
  const score = onTheirLines(given);
  return (
    headWidth(score, 0) +
    margin(score, false, true) +
    Array.from({ length: score.barCount }, (_, i) => spaceBar(columnsOf(score, i, []), 1).width).reduce(
      (a, b) => a + b,
      4,
    )
  );
};
