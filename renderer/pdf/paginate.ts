/** A system as paper sees it. */
export interface Block {
  /** In CSS pixels. */
  readonly height: number;
  /** What turning the page after it costs a player: 0 where they rest or a new section begins, else 1. */
  readonly turn: number;
}

/** Room on the first page and on later ones, and the least gap between blocks. */
export interface PageSpace {
  readonly first: number;
  readonly later: number;
  readonly gap: number;
}

/** One page less is worth more than any turn. */
const A_PAGE = 1000;
/** A good turn is worth leaving about a third of a page empty (our choice). */
const A_TURN = 0.12;

/**
 * Which blocks stand on which page: never more pages than needed; among those, turns where the
 * player has time, and pages well filled. A block higher than a page has one of its own.
 * @returns indices, page by page; always at least one page
 */
export const paginate = (blocks: readonly Block[], room: PageSpace): readonly (readonly number[])[] => {
  const cost: number[] = [0];
  const from: number[] = [0];
  for (let end = 1; end <= blocks.length; end++) {
    cost[end] = Infinity;
    let used = -room.gap;
    for (let start = end - 1; start >= 0; start--) {
      used += (blocks[start]?.height ?? 0) + room.gap;
      const most = start === 0 ? room.first : room.later;
      if (used > most + 0.5 && start < end - 1) {
        // The first page has least room: an earlier start can only be worse.
        break;
      }
      const last = end === blocks.length;
      const slack = last ? 0 : Math.max(0, 1 - used / most);
      const turn = last ? 0 : (blocks[end - 1]?.turn ?? 0);
      const total = (cost[start] ?? Infinity) + A_PAGE + turn * A_TURN + slack ** 2;
      if (total < (cost[end] ?? Infinity)) {
        cost[end] = total;
        from[end] = start;
      }
    }
  }
  const pages: number[][] = [];
  for (let end = blocks.length; end > 0; end = from[end] ?? 0) {
    const start = from[end] ?? 0;
    pages.unshift(Array.from({ length: end - start }, (_, i) => start + i));
  }
  return pages.length === 0 ? [[]] : pages;
};
