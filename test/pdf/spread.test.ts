import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openings } from '../../renderer/pdf/spread.ts';

const ROOM = { first: 800, later: 1000, gap: 20 };
const MM = 96 / 25.4;

/** How far a page reaches with its gaps opened. */
const reach = (
  heights: readonly number[],
  staves: number,
  open: { staves: number; systems: number },
): number =>
  heights.reduce((so, h) => so + h + (staves - 1) * open.staves, 0) +
  (heights.length - 1) * (ROOM.gap + open.systems);

const anyPages = fc.array(fc.array(fc.integer({ min: 100, max: 250 }), { minLength: 1, maxLength: 3 }), {
  minLength: 1,
  maxLength: 5,
});

describe('the gaps of a page', () => {
  it('law: never reach over its foot, and fill it but for what would tear staves apart', () => {
    fc.assert(
      fc.property(anyPages, fc.integer({ min: 1, max: 4 }), (pages, staves) => {
        const found = openings(pages, ROOM, staves);
        expect(found).toHaveLength(pages.length);
        pages.forEach((heights, p) => {
          const open = found[p] ?? { staves: NaN, systems: NaN };
          const most = p === 0 ? ROOM.first : ROOM.later;
          const end = reach(heights, staves, open);
          expect(Math.min(open.staves, open.systems)).toBeGreaterThanOrEqual(0);
          expect(end).toBeLessThanOrEqual(most + 1e-6);
          if (p === pages.length - 1) return;
          const isOpen =
            (staves === 1 || open.staves > 35.9 * MM) && (heights.length === 1 || open.systems > 15.9 * MM);
          if (!isOpen) expect(end).toBeCloseTo(most, 6);
        });
      }),
    );
  });

  it('are wider between systems than between their staves', () => {
    const [open] = openings([[300, 300], [300]], ROOM, 2);
    // 180 are to spare: of four shares two lie between the systems, one within each; 16 mm is the most between systems.
    expect(open?.systems).toBeCloseTo(16 * MM, 9);
    expect(open?.staves).toBeCloseTo((180 - 16 * MM) / 2, 9);
    const [near] = openings([[350, 350], [300]], ROOM, 2);
    expect(near).toEqual({ staves: 20, systems: 40 });
  });

  it('of the last page are no wider than before, and a piece of one page stands as it is', () => {
    const found = openings([[250, 250, 250], [100]], { ...ROOM, first: 1000 }, 4);
    expect(found[1]).toEqual({ staves: found[0]?.staves, systems: 0 });
    expect(openings([[200, 200]], ROOM, 4)).toEqual([{ staves: 0, systems: 0 }]);
  });
});
