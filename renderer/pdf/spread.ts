import type { PageSpace } from './paginate.ts';
import { MM } from './paper.ts';

/** What is added to the gaps of a page, in CSS pixels. */
export interface OpenGaps {
  /** Between the staves of each of its systems. */
  readonly staves: number;
  /** Between its systems, beyond the least gap. */
  readonly systems: number;
}

/** Staves of a system never come further apart than by this, nor systems. */
const MOST = { staves: 36 * MM, systems: 16 * MM } as const;
/** Systems are told apart by wider gaps than their staves (our choice). */
const TIMES = 2;

/**
 * How far the systems of each page, and their staves, come apart so that the page is filled to its foot. The last page is
 * filled no further than those before it, and a piece of one page stands as it is.
 * @param pages heights of the systems of each page
 */
export const openings = (
  pages: readonly (readonly number[])[],
  room: PageSpace,
  staves: number,
): readonly OpenGaps[] => {
  const filling = pages.map((heights, p): OpenGaps => {
    const spare =
      (p === 0 ? room.first : room.later) -
      heights.reduce((so, height) => so + height, 0) -
      room.gap * (heights.length - 1);
    const between = heights.length - 1;
    const within = heights.length * (staves - 1);
    if (between + within === 0 || spare <= 0) return { staves: 0, systems: 0 };
    const systems = between === 0 ? 0 : Math.min(MOST.systems, (TIMES * spare) / (TIMES * between + within));
    const rest = spare - between * systems;
    return { staves: within === 0 ? 0 : Math.min(MOST.staves, rest / within), systems };
  });
  const last = filling.length - 1;
  const before = filling.slice(0, last);
  const least = (what: keyof OpenGaps): number =>
    before.length === 0 ? 0 : Math.min(filling[last]?.[what] ?? 0, ...before.map(o => o[what]));
  return [...before, { staves: least('staves'), systems: least('systems') }];
};
