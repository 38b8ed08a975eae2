import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scoreOf, type Situation } from '../gallery/situation.ts';
import { GLISSANDI } from '../gallery/situations/glissandi.ts';
import { breakIntoSystems as breaks } from '../../renderer/page/layout.ts';
import { type BarColumns, columnsOf, spaceBar } from '../../renderer/page/spacing.ts';

const anyColumns = fc.array(
  fc.record({ ideal: fc.integer({ min: 20, max: 120 }), ink: fc.integer({ min: 8, max: 40 }) }),
  { minLength: 1, maxLength: 8 },
);
/** One bar in five brings another key signature. */
const anyBar: fc.Arbitrary<BarColumns> = fc
  .tuple(anyColumns, fc.constantFrom(0, 0, 0, 0, 50), fc.constantFrom(0, 0, 10))
  .map(([columns, signs, runIn]) => ({
    signs,
    runIn,
    columns: columns.map(({ ideal, ink }, i) => ({
      at: i / 8,
      ideal,
      boxes: [{ left: ink / 4, right: ink, textLeft: 0, textRight: 0 }],
    })),
    lead: 14,
    empty: 60,
    trail: 9,
  }));

const breakIntoSystems = (...given: Parameters<typeof breaks>) => breaks(...given).map(plan => plan());

describe('bars broken into systems', () => {
  it('stand in order, fill every system but the last to its edge, and never leave it', () => {
    fc.assert(
      fc.property(
        fc.array(anyBar, { minLength: 1, maxLength: 24 }),
        fc.integer({ min: 1100, max: 2400 }),
        (bars, width) => {
          const headOf = (bar: number): number => (bar === 0 ? 90 : 60 + (bar % 3) * 10);
          const systems = breakIntoSystems(bars, width, headOf);
          let next = 0;
          systems.forEach((system, i) => {
            expect(system.first).toBe(next);
            next += system.bars.length;
            const after = bars[next]?.signs ?? 0;
            // A new signature is in the head, or after its barline, and announced at the end of the line before.
            expect(system.courtesy).toBe(after);
            system.bars.forEach((bar, b) => {
              expect(bar.signs).toBe(b === 0 ? 0 : bars[system.first + b]?.signs);
            });
            const room = width - headOf(system.first) - after;
            const used = system.bars.reduce((sum, bar) => sum + bar.width, 0);
            expect(used).toBeLessThanOrEqual(room + 1e-9);
            if (i < systems.length - 1) expect(room - used).toBeLessThan(0.01);
          });
          expect(next).toBe(bars.length);
        },
      ),
      { numRuns: 100, seed: 20261127 },
    );
  });

  it('are stretched by one factor in a system, so that equal bars are equally wide', () => {
    const bar: BarColumns = {
      columns: [{ at: 0, ideal: 100, boxes: [{ left: 0, right: 12, textLeft: 0, textRight: 0 }] }],
      lead: 14,
      runIn: 0,
      signs: 0,
      empty: 60,
      trail: 9,
    };
    const [first] = breakIntoSystems(Array(9).fill(bar), 700, () => 0);
    const widths = new Set(first?.bars.map(one => one.width.toFixed(6)));
    expect([first?.bars.length, widths.size]).toEqual([Math.floor(700 / spaceBar(bar, 1).width), 1]);
  });

  it('a last bar is not alone on a line where little presses it into the one before, and is where much would', () => {
    const bar = (ideal: number): BarColumns => ({
      columns: [{ at: 0, ideal, boxes: [{ left: 0, right: 12, textLeft: 0, textRight: 0 }] }],
      lead: 14,
      runIn: 0,
      signs: 0,
      empty: 60,
      trail: 9,
    });
    const rowsOf = (last: number): number[] =>
      breakIntoSystems([...Array<BarColumns>(4).fill(bar(136)), bar(last)], 310, () => 0).map(
        s => s.bars.length,
      );
    // Two bars of 150 to a line of 310; a last one of 64 with them needs 0.85 of the room, one of 150 only 0.6.
    expect(rowsOf(50)).toEqual([2, 3]);
    // What stands on two lines stays so.
    expect(breakIntoSystems([bar(136), bar(136), bar(50)], 310, () => 0)).toHaveLength(2);
    expect(rowsOf(136)).toEqual([2, 2, 1]);
  });

  it('a line of a glissando that comes from the system before has room after the clef, and there alone', () => {
    fc.assert(
      fc.property(anyBar, fc.double({ min: 0, max: 8, noNaN: true }), (bar, stretch) => {
        const [first, later] = [spaceBar(bar, stretch, true), spaceBar(bar, stretch)];
        const before = 14 + (bar.columns[0]?.boxes[0]?.left ?? 0);
        expect(first.xs[0]).toBeCloseTo(before + bar.runIn, 9);
        expect(later.xs[0]).toBeCloseTo(before + bar.signs, 9);
      }),
    );
  });

  it('that room is kept where a line ends with the first note of a bar', () => {
    const score = scoreOf(GLISSANDI.find(s => s.id === 'gliss-over-systems') as Situation);
    expect([0, 1, 2, 3].map(bar => columnsOf(score, bar, []).runIn)).toEqual([0, 10, 10, 10]);
    const other = scoreOf(GLISSANDI.find(s => s.id === 'gliss-to-note') as Situation);
    expect([0, 1].map(bar => columnsOf(other, bar, []).runIn)).toEqual([0, 0]);
  });

  it('a short line alone is not drawn out to the edge, and a bar too wide is pressed together', () => {
    const column = { at: 0, ideal: 40, boxes: [{ left: 0, right: 12, textLeft: 0, textRight: 0 }] };
    const bar: BarColumns = { columns: [column], lead: 14, runIn: 0, signs: 0, empty: 60, trail: 9 };
    const heads = () => 0;
    expect(breakIntoSystems([bar], 5000, heads)[0]?.bars[0]?.width).toBe(spaceBar(bar, 1.6).width);
    expect(breakIntoSystems([bar], 10, heads)[0]?.bars[0]?.width).toBe(spaceBar(bar, 0).width);
  });

  it('end early before a bar that begins something, if they are filled well, and never otherwise', () => {
    fc.assert(
      fc.property(
        fc.array(anyBar, { minLength: 2, maxLength: 24 }),
        fc.uniqueArray(fc.nat(23), { maxLength: 6 }),
        (keyed, beginning) => {
          const bars = keyed.map(bar => ({ ...bar, signs: 0, runIn: 0 }));
          const heads = (bar: number): number => (bar === 0 ? 90 : 60);
          const width = 2000;
          const systems = breakIntoSystems(bars, width, heads, 0.9, new Set(beginning));
          const natural = bars.map(bar => spaceBar(bar, 0.9).width);
          const sum = (from: number, to: number): number =>
            natural.slice(from, to).reduce((so, one) => so + one, 0);
          systems.slice(0, -1).forEach((system, i) => {
            const room = width - heads(system.first);
            const next = system.first + system.bars.length;
            // Passed over: what came before was too little to stand alone.
            for (let bar = system.first + 1; bar < next; bar++) {
              if (beginning.includes(bar)) expect(sum(system.first, bar)).toBeLessThanOrEqual(0.6 * room);
            }
            const isFull = sum(system.first, next) + (natural[next] ?? 0) > room;
            const gaveToLast = i === systems.length - 2 && systems.at(-1)?.bars.length === 2;
            if (!isFull && !gaveToLast) {
              expect(beginning).toContain(next);
              expect(sum(system.first, next)).toBeGreaterThan(0.6 * room);
            }
          });
        },
      ),
      { numRuns: 200, seed: 20261127 },
    );
  });
});
