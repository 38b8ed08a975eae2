import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import type { Fonts } from './fonts.ts';
import { type Heading, type Headings, headingsOn } from './headings.ts';
import { type Mark, moved } from './marks.ts';
import { type PageSpace, paginate } from './paginate.ts';
import { type Leaf, MM, ON_ITS_SIDE, type PrintOptions, UPRIGHT, widthOfMusic } from './paper.ts';
import { scaled } from './readSvg.ts';
import { openings } from './spread.ts';
import { type PlannedSystems, planSystems } from './systems.ts';

/** One sheet of paper: everything on it, in CSS pixels from its top left corner. */
export interface PaperPage {
  readonly leaf: Leaf;
  readonly marks: readonly Mark[];
  /** Where each system stands. */
  readonly systems: readonly {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  }[];
}

const GAP = 5 * MM;
/** From this height of the stave on a score may lie on its side. */
const LARGE = 10;

type PageOptions = PrintOptions & { readonly nameStyle: NameStyle };

/** A score broken into systems and pages, before anything is drawn. */
interface Laid {
  readonly leaf: Leaf;
  readonly headings: Headings;
  readonly room: PageSpace;
  /** Systems, and what they are made smaller by to fit the page: 1 as a rule. */
  readonly planned: PlannedSystems;
  readonly scale: number;
  readonly heights: readonly number[];
  readonly pages: readonly (readonly number[])[];
}

/** A score on A4 pages, ready for any file. The notation font must be ready. */
export const paperPages = (
  score: Score,
  heading: Heading,
  fonts: Fonts,
  options: PageOptions,
): readonly PaperPage[] => {
  const upright = layOut(score, heading, fonts, options, UPRIGHT);
  // In large print a line of an upright page holds one bar of many notes: on its side it holds two.
  const mayLie = score.parts.length > 1 && (options.staveHeight ?? 7) >= LARGE && upright.pages.length > 1;
  const lying = mayLie ? layOut(score, heading, fonts, options, ON_ITS_SIDE) : upright;
  const isBetter =
    lying.pages.length < upright.pages.length && lying.scale >= SMALLER && leastFilled(lying) >= FILLED;
  return drawn(isBetter ? lying : upright, score.parts.length);
};

/** A score lies on its side only where that makes it little smaller, and leaves no page as empty as this (our choice). */
const SMALLER = 0.8;
const FILLED = 0.6;

/** How full the emptiest page but the last is before its systems come apart. */
const leastFilled = ({ pages, heights, room }: Laid): number =>
  Math.min(
    1,
    ...pages
      .slice(0, -1)
      .map(
        (page, p) =>
          page.reduce((so, i) => so + (heights[i] ?? 0), room.gap * (page.length - 1)) /
          (p === 0 ? room.first : room.later),
      ),
  );

const layOut = (score: Score, heading: Heading, fonts: Fonts, options: PageOptions, leaf: Leaf): Laid => {
  const headings = headingsOn(leaf, fonts, heading, Math.min(1.6, (options.staveHeight ?? 7) / 7));
  const room = { first: leaf.bottom - headings.first.end, later: leaf.bottom - headings.later.end, gap: GAP };
  const many = score.parts.length > 1;
  const { planned, scale } = fitting(Math.min(room.first, room.later), widthOfMusic(leaf), width =>
    planSystems(score, fonts, { ...options, width, names: many, brackets: true }),
  );
  // Nobody plays from a score of several parts: its pages are filled, wherever they end.
  const blocks = planned.blocks.map(({ height, turn }) => ({
    height: height * scale,
    turn: many ? 0 : turn,
  }));
  const pages = paginate(blocks, room);
  return { leaf, headings, room, planned, scale, heights: blocks.map(b => b.height), pages };
};

const drawn = (
  { leaf, headings, room, planned, scale, heights, pages }: Laid,
  staves: number,
): readonly PaperPage[] => {
  const open = openings(
    pages.map(page => page.map(i => heights[i] ?? 0)),
    room,
    staves,
  );
  const pageOf = new Map(pages.flatMap((page, p) => page.map(i => [i, p] as const)));
  const systems = planned.draw(i => (open[pageOf.get(i) ?? 0]?.staves ?? 0) / scale);
  return pages.map((indices, p) => {
    const head = p === 0 ? headings.first : headings.later;
    let y = head.end;
    const own = indices.flatMap(i => {
      const system = systems[i];
      if (system === undefined) return [];
      const top = y;
      const height = system.height * scale;
      y += height + GAP + (open[p]?.systems ?? 0);
      return [{ system, place: { left: leaf.side, top, width: widthOfMusic(leaf), height } }];
    });
    const music = own.flatMap(({ system, place }) =>
      system.marks.map(mark => moved(scale === 1 ? mark : scaled(mark, scale), place.left, place.top)),
    );
    return {
      leaf,
      marks: [...head.marks, ...music, ...headings.foot(p, pages.length)],
      systems: own.map(({ place }) => place),
    };
  });
};

/** A system that is higher than a page (four parts in the largest print) makes everything smaller. */
const fitting = (
  most: number,
  width: number,
  plannedAt: (width: number) => PlannedSystems,
): { readonly planned: PlannedSystems; readonly scale: number } => {
  const tallest = ({ blocks }: PlannedSystems): number => Math.max(0, ...blocks.map(b => b.height));
  let planned = plannedAt(width);
  let scale = 1;
  // In small steps: made smaller, bars may come to stand in other lines, which may be lower.
  for (let tries = 0; tries < 40 && tallest(planned) * scale > most; tries++) {
    scale *= 0.97;
    planned = plannedAt(width / scale);
  }
  return { planned, scale };
};
