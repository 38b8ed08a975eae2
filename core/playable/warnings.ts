import type { Fraction } from '../foundation/fraction.ts';
import type { HandLimits } from './limits.ts';
import { type Hand, handsBefore, overLimit } from './sticking.ts';
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
  const before = handsBefore(strokes, sticking);
  for (const [index, stroke] of strokes.entries()) {
    const kind = warningAt(strokes, index, sticking, before[index] ?? { left: -1, right: -1 }, limits);
    if (kind !== undefined) places.set(kind, [...(places.get(kind) ?? []), stroke.at]);
  }
  return KINDS.flatMap(kind => {
    const found = places.get(kind);
    return found === undefined ? [] : [{ kind, places: found }];
  });
};

const warningAt = (
  strokes: readonly Stroke[],
  index: number,
  sticking: readonly Hand[],
  before: { readonly left: number; readonly right: number },
  limits: HandLimits,
): WarningKind | undefined => {
  const stroke = strokes[index];
  if (stroke === undefined) return undefined;
  if (stroke.pitches.length > 2) return 'three';
  const last = strokes[index - 1];
  const gap = last === undefined ? Number.POSITIVE_INFINITY : (stroke.seconds - last.seconds) * 1000;
  if (gap < limits.hardCap - SLACK) return 'cap';
  const hand = stroke.pitches.length > 1 ? 'B' : (sticking[index] ?? 'R');
  const over = [
    ...(hand === 'R' ? [] : [overLimit(strokes, index, before.left, 'L', limits)]),
    ...(hand === 'L' ? [] : [overLimit(strokes, index, before.right, 'R', limits)]),
  ];
  if (over.some(o => o.again > 0)) return 'hand';
  if (gap < limits.alternating - SLACK) return 'fast';
  return over.some(o => o.leap > 0) ? 'leap' : undefined;
};
