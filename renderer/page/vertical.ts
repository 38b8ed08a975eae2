import type { ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import { lastBefore } from './lastBefore.ts';
import { slursIn } from './slurs.ts';
import { inkOf, stemDirections, tupletSide } from './stems.ts';
import { NUMBER_ABOVE } from './longRest.ts';
import { ROW, TEXT_SIZE, type Under } from './under.ts';

/** Room one stave needs in a system, in stave units, and where its rows of text stand. */
export interface StaveRoom {
  /** Ink above the top line. */
  readonly above: number;
  /** The same, leaving the clef out. */
  readonly overNotes: number;
  /** Ink and rows below the bottom line. */
  readonly below: number;
  /** Baselines below the bottom line. */
  readonly dynamics?: number;
  readonly pedals?: number;
  /** Baseline of words over the stave, from the top line: above zero is further up. */
  readonly words?: number;
  readonly rows: readonly { readonly row: Under; readonly baseline: number }[];
}

/** Least room over and under a stave: the clef reaches this far. */
export const LEAST_ABOVE = 16;
/** The same over notes that stay within the stave. */
const LEAST_OVER_NOTES = 4;
const LEAST_BELOW = 18;
/** A number, and a bracket where there is one, beyond the notes of a tuplet. */
const TUPLET = 27;
/** The bracket of a tuplet under its notes is never nearer to the stave than this: heads may end inside it. */
const NEAREST_UNDER = 10;
const DYNAMICS = 24;
/** Height of the row of pedal signs. */
const PEDALS = 24;
/** Height of words over the stave. */
const WORDS = 14;

/**
 * What one stave of a system needs, from its notes.
 * @param signs how far key signatures reach over the top line
 */
export const staveRoom = (
  part: ScorePart,
  first: number,
  count: number,
  under: readonly Under[],
  signs = 0,
): StaveRoom => {
  let over = Math.max(LEAST_OVER_NOTES, signs);
  let below = LEAST_BELOW;
  let dynamics = hairpinAt(part, first);
  let words = false;
  let pedals = false;
  for (const bar of part.bars.slice(first, first + count)) {
    const directions = stemDirections(bar, part.clef);
    const ink = inkOf(bar, part.clef, directions);
    for (const span of ink) {
      over = Math.max(over, -span.top + 3);
      below = Math.max(below, span.bottom - 40 + 3);
    }
    if (bar.restBars !== undefined) over = Math.max(over, NUMBER_ABOVE);
    dynamics ||= bar.symbols.some(
      s => s.dynamic !== undefined || s.hairpin !== undefined || s.hairpinEnds === true,
    );
    words ||= bar.symbols.some(s => s.words !== undefined);
    pedals ||= bar.symbols.some(s => s.pedal === true || s.pedalEnds === true);
    bar.tuplets.forEach((_, index) => {
      const members = bar.symbols.flatMap((s, i) => (s.tuplet === index ? [i] : []));
      const spans = members.flatMap(i => ink[i] ?? []);
      if (tupletSide(members, directions) === 'over') {
        over = Math.max(over, TUPLET - Math.min(0, ...spans.map(s => s.top)));
      } else below = Math.max(below, TUPLET + Math.max(NEAREST_UNDER, ...spans.map(s => s.bottom - 40)));
    });
  }
  for (const slur of slursIn(part, first, count)) {
    if (slur.over) over = Math.max(over, -slur.reach + 3);
    else below = Math.max(below, slur.reach - 40 + 3);
  }
  const ink = Math.max(LEAST_ABOVE, over);
  const wordsAt = words ? ink + 4 : undefined;
  const above = wordsAt === undefined ? ink : wordsAt + WORDS;
  let baseline = below;
  const dynamicsAt = dynamics ? (baseline += DYNAMICS) - 7 : undefined;
  const pedalsAt = pedals ? (baseline += PEDALS) - 4 : undefined;
  const rows = under.map((row, i) => {
    baseline += i === 0 && (dynamics || pedals) ? ROW + 3 : ROW;
    return { row, baseline: baseline - (ROW - TEXT_SIZE) };
  });
  return {
    above,
    overNotes: words ? above : over,
    below: baseline + (rows.length > 0 ? 3 : 0),
    rows,
    ...(dynamicsAt === undefined ? {} : { dynamics: dynamicsAt }),
    ...(pedalsAt === undefined ? {} : { pedals: pedalsAt }),
    ...(wordsAt === undefined ? {} : { words: wordsAt }),
  };
};

/** Whether a hairpin runs into a bar from before. */
const hairpinAt = (part: ScorePart, first: number): boolean => openHairpin(part, first) !== undefined;

const isHairpin = (symbol: ScoreSymbol): boolean =>
  symbol.hairpin !== undefined || symbol.hairpinEnds === true;

/** The hairpin that runs into a bar from before: where it began. */
export const openHairpin = (part: ScorePart, first: number): ScoreSymbol | undefined => {
  const last = lastBefore(part, first, isHairpin);
  return last?.hairpinEnds === true ? undefined : last;
};
