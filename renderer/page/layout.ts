import { type BarColumns, spaceBar, type SpacedBar } from './spacing.ts';

/** Which bars stand in one system, and where everything in them stands. In stave units. */
export interface SystemPlan {
  readonly first: number;
  readonly bars: readonly SpacedBar[];
}

const total = (bars: readonly BarColumns[], stretch: number): number =>
  bars.reduce((so, bar) => so + spaceBar(bar, stretch).width, 0);

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
 * `heads` is what clef, signature and metre take at the left of the first and of later systems; `natural` is the
 * stretch at which bars stand as they would on their own; a system that is filled well enough ends before a bar of
 * `beginning`.
 */
export const breakIntoSystems = (
  bars: readonly BarColumns[],
  width: number,
  heads: { readonly first: number; readonly later: number },
  natural = 1,
  beginning: ReadonlySet<number> = new Set(),
): readonly SystemPlan[] => {
  const naturals = bars.map(bar => spaceBar(bar, natural).width);
  const rows: number[][] = [];
  let used = Infinity;
  naturals.forEach((natural, i) => {
    const room = width - (rows.length <= 1 ? heads.first : heads.later);
    const last = rows.at(-1);
    if (last === undefined || used + natural > room || (beginning.has(i) && used > FILLED * room)) {
      rows.push([i]);
      used = natural;
    } else {
      last.push(i);
      used += natural;
    }
  });
  balanceLast(rows, naturals, width - heads.later);
  return rows.map((row, r) => {
    const room = width - (r === 0 ? heads.first : heads.later);
    const own = row.flatMap(i => bars[i] ?? []);
    const fitting = stretchFor(own, room);
    const isLast = r === rows.length - 1;
    const stretch = isLast ? Math.min(fitting, rows.length === 1 ? ALONE : 1) : fitting;
    return { first: row[0] ?? 0, bars: own.map(bar => spaceBar(bar, stretch)) };
  });
};

/** The least width any single bar can be pressed into. */
export const tightest = (bars: readonly BarColumns[]): number =>
  Math.max(0, ...bars.map(bar => spaceBar(bar, 0).width));

/** A lonely last bar takes company from the system before. */
const balanceLast = (rows: number[][], naturals: readonly number[], room: number): void => {
  const last = rows.at(-1);
  const before = rows.at(-2);
  if (last === undefined || before === undefined || last.length > 1 || before.length < 3) return;
  const moved = before.at(-1);
  if (moved === undefined || (naturals[moved] ?? 0) + (naturals[last[0] ?? 0] ?? 0) > room) return;
  before.pop();
  last.unshift(moved);
};
