/** Where a beam's two ends stand, from the tips its stems would have without it. In stave units, y downwards. */
export interface Slant {
  /** Added to the first stem's tip; its sign is away from the heads, or nothing. */
  readonly shift: number;
  /** y a unit of x: below zero where the beam rises. */
  readonly slope: number;
}

/** A stem under a beam: where it stands and where it would end alone. */
export interface StemTip {
  readonly x: number;
  readonly y: number;
}

/**
 * How far the ends of a beam lie apart by the interval between its outer notes, in stave units: a quarter of a
 * space for a second, half for a third, a space for a fourth, a space and a quarter for more (Ross, The Art of
 * Music Engraving, 1970; Gould, Behind Bars, 2011; both from memory).
 */
const RISE = [0, 2.5, 5, 10, 12.5] as const;
/** Notes that stand close let a beam rise less: so much of the way between them (our choice). */
const STEEPEST = 0.22;
const QUARTER = 2.5;

/**
 * Whether the end of a beam stands as it should on the lines of a stave, its first line at 0: sitting on one,
 * straddling it, or hanging from it, never floating in a space. Off the stave anything does.
 * @param y of its outer edge; @param up whether the stems point up
 */
export const standsWell = (y: number, up: boolean, thickness: number): boolean => {
  const top = up ? y : y - thickness;
  if (top + thickness < -1 || top > 41) return true;
  const fromLine = (edge: number): number => Math.abs(edge - 10 * Math.round(edge / 10));
  return [top, top + thickness / 2, top + thickness].some(edge => fromLine(edge) < 0.8);
};

/**
 * The slant of a beam.
 * @param tips of every stem, from left to right, two or more
 * @param steps stave steps from the first note's head to the last one's, above zero where they rise
 * @param flat whether it may not slant
 * @param topLine y of the first line of the stave
 */
export const slantOf = (
  tips: readonly StemTip[],
  steps: number,
  flat: boolean,
  up: boolean,
  thickness: number,
  topLine: number,
): Slant => {
  const [first] = tips;
  const last = tips.at(-1);
  if (first === undefined || last === undefined || last.x <= first.x) return { shift: 0, slope: 0 };
  const across = last.x - first.x;
  const most = Math.floor((across * STEEPEST) / QUARTER) * QUARTER;
  const wanted = flat ? 0 : Math.min(RISE[Math.min(Math.abs(steps), 4)] ?? 0, most);
  const rises = flat || wanted === 0 ? [0] : [wanted, wanted - QUARTER, wanted + QUARTER].filter(r => r > 0);
  const away = up ? -1 : 1;
  let best: Slant = { shift: 0, slope: 0 };
  let least = Infinity;
  rises.forEach((rise, i) => {
    const drop = -Math.sign(steps) * rise;
    const slope = drop / across;
    // No stem shorter than it would be alone.
    const needed = tips.map(tip => (tip.y - first.y - (tip.x - first.x) * slope) * away);
    const shortest = Math.max(0, ...needed);
    for (let more = 0; more < 4; more++) {
      const start =
        Math.ceil(((first.y - topLine) * away + shortest) / QUARTER - 1e-6 + more) * QUARTER * away;
      const well = standsWell(start, up, thickness) && standsWell(start + drop, up, thickness);
      const cost = Math.abs(start - (first.y - topLine)) - shortest + 3 * i + (well ? 0 : 100);
      if (cost < least) {
        least = cost;
        best = { shift: start + topLine - first.y, slope };
      }
    }
  });
  return best;
};
