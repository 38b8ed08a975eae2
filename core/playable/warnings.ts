import type { Fraction } from '../foundation/fraction.ts';
import type { HandLimits } from './limits.ts';
import { type Hand, overLimits } from './sticking.ts';
import type { MalletStroke } from './strokes.ts';

/**
 * Why two mallets may not manage. `three`: more notes at once than mallets; `cap`: faster than anyone
 * is taken to strike; `fast`: faster than hand after hand; `hand`: faster than one hand can; `leap`: one
 * hand has too far to go.
 */
export type WarningKind = 'three' | 'cap' | 'fast' | 'hand' | 'leap';

export interface Warning {
  readonly kind: WarningKind;
  /** Where, in order, from the first full barline in semibreves; never empty. */
  readonly onsets: readonly Fraction[];
}

const KINDS: readonly WarningKind[] = ['three', 'cap', 'fast', 'hand', 'leap'];
const SLACK = 0.5;

/** Everything two mallets may not manage with this sticking, by kind. A stroke has one warning at the most. */
export const warningsOf = (
  strokes: readonly MalletStroke[],
  sticking: readonly Hand[],
  limits: HandLimits,
): readonly Warning[] => {
  const onsets = new Map<WarningKind, Fraction[]>();
  const over = overLimits(strokes, sticking, limits);
  for (const [index, stroke] of strokes.entries()) {
    const last = strokes[index - 1];
    const gap = last === undefined ? Number.POSITIVE_INFINITY : (stroke.seconds - last.seconds) * 1000;
    const kind = kindOf(stroke.pitches.length, gap, limits, over[index]);
    if (kind === undefined) continue;
    const found = onsets.get(kind);
    if (found === undefined) onsets.set(kind, [stroke.onset]);
    else found.push(stroke.onset);
  }
  return KINDS.flatMap(kind => {
    const found = onsets.get(kind);
    return found === undefined ? [] : [{ kind, onsets: found }];
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
