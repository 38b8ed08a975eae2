import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Block, paginate } from '../../renderer/pdf/paginate.ts';

const ROOM = { first: 800, later: 1000, gap: 20 };

const blocks = fc.array(
  fc.record({ height: fc.integer({ min: 40, max: 700 }), turn: fc.constantFrom(0, 1) }),
  { minLength: 1, maxLength: 24 },
);

const used = (page: readonly number[], all: readonly Block[]): number =>
  page.reduce((so, i) => so + (all[i]?.height ?? 0), 0) + ROOM.gap * (page.length - 1);

/** As few pages as filling each in turn takes, which no other way can better. */
const fewest = (all: readonly Block[]): number => {
  let pages = 0;
  let left = -1;
  for (const { height } of all) {
    if (left >= height + ROOM.gap) left -= height + ROOM.gap;
    else {
      left = (pages === 0 ? ROOM.first : ROOM.later) - height;
      pages += 1;
    }
  }
  return pages;
};

describe('pages of systems', () => {
  it('hold every system once, in order, within the page, on as few pages as can be', () => {
    fc.assert(
      fc.property(blocks, all => {
        const pages = paginate(all, ROOM);
        expect(pages.flat()).toEqual(all.map((_, i) => i));
        pages.forEach((page, p) => {
          expect(used(page, all)).toBeLessThanOrEqual(p === 0 ? ROOM.first : ROOM.later);
        });
        expect(pages).toHaveLength(fewest(all));
      }),
    );
  });

  it('turn where the player rests, when that costs no page and little room', () => {
    const eight = Array.from({ length: 8 }, (_, i) => ({ height: 150, turn: i === 3 ? 0 : 1 }));
    // Five would fit on the first page.
    expect(paginate(eight, { ...ROOM, first: 900 })).toEqual([
      [0, 1, 2, 3],
      [4, 5, 6, 7],
    ]);
    // Not when the page would be left half empty.
    const early = Array.from({ length: 8 }, (_, i) => ({ height: 150, turn: i === 1 ? 0 : 1 }));
    expect(paginate(early, { ...ROOM, first: 900 })[0]).toHaveLength(5);
  });

  it('give a system higher than a page one of its own, and nothing one empty page', () => {
    expect(
      paginate(
        [
          { height: 1500, turn: 1 },
          { height: 100, turn: 1 },
        ],
        ROOM,
      ),
    ).toEqual([[0], [1]]);
    expect(paginate([], ROOM)).toEqual([[]]);
  });
});
