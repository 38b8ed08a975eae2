import { type Lattice, TICKS } from '../search/lattice.ts';
import { FILLED_BEATS, CUT_SHORT, ROLLED_ON } from './constants.ts';

/**
 * Written lengths for struck bars. A struck bar says when it begins, hardly when it stops, so a gap is
 * filled when that takes no more symbols than a note and a rest would; a long silence is written as a
 * note to the next beat and then rests.
 */
export interface Gap {
  /** Onset in ticks from the first barline. */
  readonly at: number;
  /** How long it was held, in ticks, when the instrument's note-offs mean something. */
  readonly held?: number;
  /** How long it was rolled, in ticks, where it was. */
  readonly rolled?: number;
}

/** Lengths that one symbol (or a dotted one) can show, in ticks: semibreve to demisemiquaver. */
const PLAIN: ReadonlySet<number> = new Set([1, 2, 4, 8, 16, 32].flatMap(d => [TICKS / d, (TICKS / d) * 1.5]));

const cellAt = (lattice: Lattice, tick: number): { start: number; length: number; parts: number } => {
  const bar = Math.floor(tick / lattice.bar) * lattice.bar;
  const inBar = tick - bar;
  let found = { start: bar, length: lattice.bar, parts: 2 };
  for (const cell of lattice.cells)
    if (cell.start <= inBar) found = { start: bar + cell.start, length: cell.length, parts: cell.parts };
  return found;
};

/** A roll says when it stops: it lasts to the part of a beat (its half, its third) nearest to that, or to the next note where hardly anything is silent. */
const rolledLength = (rolled: number, gap: number, part: number): number => {
  const length = Math.max(part, Math.round(rolled / part) * part);
  return rolled >= ROLLED_ON * gap || length >= gap ? gap : length;
};

/**
 * A written length for every onset, in ticks; above zero and never into the next note.
 * @example lengthsOf([{ at: 0 }, { at: 24 }], latticeOf(metre(4, 4)), false) // => [24, 24]
 */
export const lengthsOf = (gaps: readonly Gap[], lattice: Lattice, letRing: boolean): number[] =>
  gaps.map(({ at, held, rolled }, i) => {
    // Strikes forced onto one place share the gap to the next place.
    let later = i + 1;
    while (later < gaps.length && (gaps[later]?.at ?? at) <= at) later++;
    const next = gaps[later]?.at;
    const cell = cellAt(lattice, at);
    const toBeat = cell.start + cell.length - at;
    if (rolled !== undefined) return rolledLength(rolled, (next ?? Infinity) - at, cell.length / cell.parts);
    // The last note rings to the end of its beat, or of the next when it has too little left to be heard.
    const toRest = toBeat >= cell.length / 2 ? toBeat : toBeat + cell.length;
    if (next === undefined) return letRing ? (Math.floor(at / lattice.bar) + 1) * lattice.bar - at : toRest;
    const gap = next - at;
    if (letRing) return gap;
    const short =
      held !== undefined && held < CUT_SHORT * gap && gap > cell.length && held < toRest + cell.length / 8;
    if (short) return Math.min(gap, toRest);
    if (
      gap <= FILLED_BEATS * cell.length ||
      (PLAIN.has(gap) && gap <= lattice.bar && (at % lattice.bar === 0 || gap <= 3 * cell.length))
    )
      return gap;
    return Math.min(gap, toRest);
  });
