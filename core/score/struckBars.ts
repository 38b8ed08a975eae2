import { toNumber } from '../foundation/fraction.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { ScorePart } from './score.ts';

/** One blow of a part: which tone bars are struck together, and how long what they sound is written. */
export interface StruckBars {
  /** From the first full barline, in semibreves; an upbeat's are below 0. */
  readonly at: number;
  readonly until: number;
  /** Written pitches, lowest first. */
  readonly pitches: readonly MidiPitch[];
}

/** The blows of a part in order of time; what is tied from a note before is part of its blow. */
export const struckBarsOf = (part: Pick<ScorePart, 'bars'>): readonly StruckBars[] => {
  const blows: StruckBars[] = [];
  for (const symbol of part.bars.flatMap(bar => bar.symbols)) {
    if (symbol.pitches.length === 0) continue;
    const at = toNumber(symbol.onset);
    const until = at + toNumber(symbol.duration);
    const last = blows.at(-1);
    if (symbol.tiedFrom && last !== undefined) blows[blows.length - 1] = { ...last, until };
    else blows.push({ at, until, pitches: symbol.pitches.map(p => midiOf(p.spelled)).sort((a, b) => a - b) });
  }
  return blows;
};

/** A cursor lies where the sound is, and what is struck at a place is struck there within this, in semibreves. */
const SAME = 1e-6;

/**
 * Which bars sound at a place, and which are struck next.
 * @param blows in order of time
 * @param at from the first full barline, in semibreves; undefined before the music begins
 * @example
 * const blows = [{ at: 0, until: 0.25, pitches: [60] }, { at: 0.5, until: 1, pitches: [64, 67] }];
 * toneBarsAt(blows, 0.1) // => { now: [60], next: [64, 67] }
 * toneBarsAt(blows, 0.3) // => { now: [], next: [64, 67] }
 * toneBarsAt(blows, undefined) // => { now: [], next: [60] }
 */
export const toneBarsAt = (
  blows: readonly StruckBars[],
  at: number | undefined,
): { readonly now: readonly MidiPitch[]; readonly next: readonly MidiPitch[] } => {
  if (at === undefined) return { now: [], next: blows[0]?.pitches ?? [] };
  const next = blows.find(blow => blow.at > at + SAME);
  const last = blows.filter(blow => blow.at <= at + SAME).at(-1);
  return {
    now: last !== undefined && at < last.until - SAME ? last.pitches : [],
    next: next?.pitches ?? [],
  };
};
