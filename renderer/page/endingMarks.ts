import { type Ending, endingsIn, endingText } from '../../core/score/endings.ts';
import type { Score } from '../../core/score/score.ts';
import { bar, SANS, svg, text } from './svg.ts';

/** Room over the first stave of a system for first- and second-time bars, in stave units. */
const ENDING_ROOM = 24;
/** How far the uprights come down from the line. */
const UPRIGHT = 16;

const within = (ending: Ending, first: number, count: number): boolean =>
  ending.first < first + count && ending.last >= first;

/** Room that the endings of a stretch of bars take over a system; 0 where there are none. */
export const endingRoom = (score: Score, first: number, count: number): number =>
  endingsIn(score).some(e => within(e, first, count)) ? ENDING_ROOM : 0;

/**
 * A line over the bars of an ending, with the times at which they are played. It comes down where they begin, and where
 * a repeat barline closes them; the last ending stays open (common practice, no source).
 * @param edges left edge of every bar of the system, and the right edge of the last
 * @param y of the line
 */
export const endingMarks = (
  score: Score,
  first: number,
  edges: readonly number[],
  y: number,
  weight: number,
): readonly SVGElement[] => {
  const count = edges.length - 1;
  const thick = 1.2 * weight;
  return endingsIn(score)
    .filter(e => within(e, first, count))
    .map(e => {
      const begins = e.first >= first;
      const ends = e.last < first + count;
      const closed = ends && score.repeats?.some(r => r.bar + r.bars - 1 === e.last) === true;
      const left = (edges[Math.max(0, e.first - first)] ?? 0) + (begins ? 2 : 0);
      const right = (edges[Math.min(count, e.last - first + 1)] ?? left) - 2;
      const mark = svg('g', { class: 'ending' });
      mark.append(bar(left, y, right - left, thick));
      if (begins) mark.append(bar(left, y, thick, UPRIGHT));
      if (closed) mark.append(bar(right - thick, y, thick, UPRIGHT));
      mark.append(
        text(left + 7, y + 15.5, begins ? endingText(e) : `(${endingText(e)})`, {
          'font-family': SANS,
          'font-size': 14,
          'font-weight': 'bold',
        }),
      );
      return mark;
    });
};
