import type { BarIndex } from '../../core/foundation/units.ts';
import { type BarColumns, spaceBar, type SpacedBar } from './spacing.ts';

/** Which bars stand in one system, and where everything in them stands. In stave units. */
export interface SystemPlan {
  readonly first: number;
  readonly bars: readonly SpacedBar[];
  /** Room after the last barline for a signature that changes with the next system; 0 for none. */
  readonly courtesy: number;
}

/** Bars of one system, the first of which has its key signature in the head. */
const spaced = (bars: readonly BarColumns[], stretch: number): readonly SpacedBar[] =>
  bars.map((bar, i) => spaceBar(bar, stretch, i === 0));

const total = (bars: readonly BarColumns[], stretch: number): number =>
  spaced(bars, stretch).reduce((so, bar) => so + bar.width, 0);

/** Nearer than this to the edge of the page nobody sees a gap, in stave units. */
const FLUSH = 0.001;
/** What bars are stretched to at most. */
const MOST = 8;

/**
 * The stretch that makes bars fill `room` and not leave it. Room grows with stretch, in straight lines that
 * steepen: drawing the line between two tries comes near at once, and halving sees to it that this ends.
 */
const stretchFor = (bars: readonly BarColumns[], room: number): number => {
  let low = { at: 0, width: total(bars, 0) };
  let high = { at: MOST, width: total(bars, MOST) };
  if (high.width <= room) return MOST;
  for (let i = 0; i < 40 && room - low.width > FLUSH && high.at - low.at > 1e-7; i++) {
    const share = i % 2 === 0 ? (room - low.width) / (high.width - low.width) : 0.5;
    const at = low.at + share * (high.at - low.at);
    const width = total(bars, at);
    if (width > room) high = { at, width };
    else low = { at, width };
  }
  return low.at;
};

/** How much of a system is filled before it may end early. */
const FILLED = 0.6;

/** A system on its own is not drawn out further than this. */
const ALONE = 1.6;

/**
 * Breaks bars into systems of at most `width`, and stretches each to the full width by one factor
 * for all its bars, so that equal values take equal room; the last system keeps its natural width.
 * `headOf` is what name, clef, signature and metre take at the left of a system that begins with a bar; a system before
 * a new signature keeps room for it after its last barline. `natural` is the stretch at which bars stand as they would
 * on their own; a system that is filled well enough ends before a bar of `beginning`.
 * @returns each system's plan, made when it is asked for: stretching takes most of the time
 */
export const breakIntoSystems = (
  bars: readonly BarColumns[],
  width: number,
  headOf: (bar: BarIndex) => number,
  natural = 1,
  beginning: ReadonlySet<number> = new Set(),
): readonly (() => SystemPlan)[] => {
  const widthOf = (i: number, heads = false): number => {
    const bar = bars[i];
    return bar === undefined ? 0 : spaceBar(bar, natural, heads).width;
  };
  const courtesyAfter = (i: number): number => bars[i + 1]?.signs ?? 0;
  const rows: number[][] = [];
  let used = Infinity;
  bars.forEach((_, i) => {
    const last = rows.at(-1);
    const room = width - headOf(last?.[0] ?? 0);
    const full = used + widthOf(i) + courtesyAfter(i) > room;
    if (last === undefined || full || (beginning.has(i) && used > FILLED * room)) {
      rows.push([i]);
      used = widthOf(i, true);
    } else {
      last.push(i);
      used += widthOf(i);
    }
  });
  joinLast(
    rows,
    (row, stretch) =>
      total(
        row.flatMap(i => bars[i] ?? []),
        stretch,
      ),
    r => width - headOf(r),
    natural,
  );
  const company = rows.at(-2)?.at(-1);
  if (company !== undefined) balanceLast(rows, i => widthOf(i, i === company), width - headOf(company));
  return rows.map((row, r) => () => {
    const courtesy = courtesyAfter(row.at(-1) ?? 0);
    const room = width - headOf(row[0] ?? 0) - courtesy;
    const own = row.flatMap(i => bars[i] ?? []);
    const fitting = stretchFor(own, room);
    const isLast = r === rows.length - 1;
    const stretch = isLast ? Math.min(fitting, rows.length === 1 ? ALONE : 1) : fitting;
    return { first: row[0] ?? 0, bars: spaced(own, stretch), courtesy };
  });
};

/** The least width any single bar can be pressed into. */
export const tightest = (bars: readonly BarColumns[]): number =>
  Math.max(0, ...bars.map((bar, i) => spaceBar(bar, 0).width + (bars[i + 1]?.signs ?? 0)));

/** How much closer than they would on their own bars may stand, so that the last one is not alone on a line (our choice). */
const PRESSED = 0.8;

/** A lonely last bar joins the line before where little is missing; what stands on two lines stays as it is. */
const joinLast = (
  rows: number[][],
  widthAt: (bars: readonly number[], stretch: number) => number,
  roomFrom: (first: number) => number,
  natural: number,
): void => {
  const last = rows.at(-1);
  const before = rows.at(-2);
  if (last === undefined || before === undefined || last.length > 1 || rows.length < 3) return;
  if (widthAt([...before, ...last], PRESSED * natural) > roomFrom(before[0] ?? 0)) return;
  before.push(...last);
  rows.pop();
};

/** A lonely last bar takes company from the system before. */
const balanceLast = (rows: number[][], widthOf: (bar: number) => number, room: number): void => {
  const last = rows.at(-1);
  const before = rows.at(-2);
  if (last === undefined || before === undefined || last.length > 1 || before.length < 3) return;
  const moved = before.at(-1);
  if (moved === undefined || widthOf(moved) + widthOf(last[0] ?? 0) > room) return;
  before.pop();
  last.unshift(moved);
};
