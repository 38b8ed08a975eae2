import type { Fraction } from '../foundation/fraction.ts';
import type { HandLimits } from './limits.ts';
import { type Hand, overLimits } from './sticking.ts';
import type { Stroke } from './strokes.ts';

/**
 * Why two mallets may not manage. `three`: more notes at once than mallets; `cap`: faster than anyone
 * is taken to strike; `fast`: faster than hand after hand; `hand`: faster than one hand can; `leap`: one
 * hand has too far to go.
 */
export type WarningKind = 'three' | 'cap' | 'fast' | 'hand' | 'leap';

export interface Warning {
  readonly kind: WarningKind;
  /** Where, in order, from the first full barline in semibreves; never empty. */
  readonly places: readonly Fraction[];
}

const KINDS: readonly WarningKind[] = ['three', 'cap', 'fast', 'hand', 'leap'];
const SLACK = 0.5;

/** Everything two mallets may not manage with this sticking, by kind. A stroke has one warning at the most. */
export const warningsOf = (
  strokes: readonly Stroke[],
  sticking: readonly Hand[],
  limits: HandLimits,
): readonly Warning[] => {
  const places = new Map<WarningKind, Fraction[]>();
  const over = overLimits(strokes, sticking, limits);
  for (const [index, stroke] of strokes.entries()) {
    const last = strokes[index - 1];
    const gap = last === undefined ? Number.POSITIVE_INFINITY : (stroke.seconds - last.seconds) * 1000;
    const kind = kindOf(stroke.pitches.length, gap, limits, over[index]);
    if (kind === undefined) continue;
    const found = places.get(kind);
    if (found === undefined) places.set(kind, [stroke.at]);
    else found.push(stroke.at);
  }
  return KINDS.flatMap(kind => {
    const found = places.get(kind);
    return found === undefined ? [] : [{ kind, places: found }];
  });
};

const kindOf = (
  notes: number,
  gap: number,
  limits: HandLimits,
  over: { readonly again: boolean; readonly leap: boolean } | undefined,
): WarningKind | undefined => {
  if (notes > 2) return 'three';
  if (gap < limits.hardCap - SLACK) return 'cap';
  if (over?.again === true) return 'hand';
  if (gap < limits.alternating - SLACK) return 'fast';
  return over?.leap === true ? 'leap' : undefined;
};
