import { toNumber } from '../foundation/fraction.ts';
import type { Velocity } from '../foundation/units.ts';
import { VELOCITY_OF } from '../plan/dynamics.ts';
import type { ScoreSymbol } from '../score/score.ts';

/** With no mark on the page (between mezzo-forte and forte). */
export const UNMARKED: Velocity = 84;
/** From one dynamic mark to the next: what a hairpin comes to that leads to no mark (common practice, no source). */
const ONE_MARK = 16;

/**
 * How hard each symbol of a part is struck, accents apart: the mark in force, and between the ends of a
 * hairpin louder or softer by and by, up to the mark that follows it.
 * @param symbols of one part, in order
 */
export const loudnessIn = (symbols: readonly ScoreSymbol[]): readonly Velocity[] => {
  const out: Velocity[] = [];
  let loud = UNMARKED;
  let toward: { from: number; start: Velocity; to: number; end: Velocity } | undefined;
  symbols.forEach((symbol, i) => {
    if (symbol.dynamic !== undefined) {
      loud = VELOCITY_OF[symbol.dynamic];
      toward = undefined;
    }
    if (symbol.hairpin !== undefined) {
      const last = symbols.findIndex((other, k) => k > i && other.hairpinEnds === true);
      const end = symbols[last];
      if (end !== undefined) {
        const louder = symbol.hairpin === 'crescendo';
        const mark = symbols.slice(last + 1).find(other => other.pitches.length > 0)?.dynamic;
        const marked = mark === undefined ? undefined : VELOCITY_OF[mark];
        const leads = marked !== undefined && (louder ? marked > loud : marked < loud);
        const aim = leads ? marked : Math.max(1, Math.min(127, loud + (louder ? ONE_MARK : -ONE_MARK)));
        toward = { from: toNumber(symbol.onset), start: loud, to: toNumber(end.onset), end: aim };
      }
    }
    if (toward !== undefined && toward.to > toward.from) {
      const { from, start, to, end } = toward;
      const done = Math.min(1, (toNumber(symbol.onset) - from) / (to - from));
      loud = Math.round(start + (end - start) * done);
    }
    out.push(loud);
  });
  return out;
};
