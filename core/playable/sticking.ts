import { isNatural, modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { HandLimits } from './limits.ts';
import type { Stroke } from './strokes.ts';

/** Which hand strikes; `B` both at once, the left the lower bar. */
export type Hand = 'L' | 'R' | 'B';

/** A hand that struck longer ago than this many strokes is free to be anywhere. */
const FORGET = 8;
/** Naturals from a bar to its octave. */
const OCTAVE = 7;
/** Half a millisecond: beats are seldom whole milliseconds. */
const SLACK = 0.5;

// What makes a sticking awkward, in units of our own choosing: only their order matters. Hand after hand
// is the rule, for pupils learn it as one; it gives way to reaching across, and everything to the limits.
const OVER_LIMIT = 20;
const AGAIN = 0.8;
/** After so long, in ms, the same hand again is no matter. */
const AGAIN_TIME = 800;
const A_BAR = 0.06;
/** Hand after hand along a scale overlaps by so many naturals; only beyond that do hands cross. */
const OVERLAP = 2;
const CROSSED_BAR = 0.25;
/** Crossed hands matter less, the longer ago the other one struck, in ms. */
const CROSSED_TIME = 500;
/** The right hand leads where nothing else decides (common practice, no source). */
const LEFT_LEADS = 0.02;

const NATURALS_BELOW = [0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6];

/** Where a bar lies along the instrument, in naturals; an accidental lies between its neighbours. */
export const barPlace = (pitch: MidiPitch): number =>
  7 * Math.floor(pitch / 12) + (NATURALS_BELOW[modulo(pitch, 12)] ?? 0) + (isNatural(pitch) ? 0.5 : 0);

const barUnder = (stroke: Stroke, hand: 'L' | 'R'): MidiPitch =>
  (hand === 'L' ? stroke.pitches[0] : stroke.pitches.at(-1)) ?? 0;

/** The last stroke of each hand, as an index; -1 where it is free. */
interface Hands {
  readonly left: number;
  readonly right: number;
}
const FREE: Hands = { left: -1, right: -1 };

/** How much harder than the limits allow one hand's next stroke is, and in which way. */
export const overLimit = (
  strokes: readonly Stroke[],
  index: number,
  before: number,
  hand: 'L' | 'R',
  limits: HandLimits,
): { readonly again: number; readonly leap: number; readonly gap: number; readonly bars: number } => {
  const stroke = strokes[index];
  const last = strokes[before];
  if (stroke === undefined || last === undefined)
    return { again: 0, leap: 0, gap: Number.POSITIVE_INFINITY, bars: 0 };
  const gap = (stroke.seconds - last.seconds) * 1000;
  const bars = Math.abs(barPlace(barUnder(stroke, hand)) - barPlace(barUnder(last, hand)));
  const under = (limit: number): number => (gap < limit - SLACK ? (limit - gap) / limit : 0);
  return {
    again: before === index - 1 ? under(limits.sameHand) : 0,
    leap: bars > OCTAVE ? under(limits.leap) : 0,
    gap,
    bars,
  };
};

const strikeCost = (
  strokes: readonly Stroke[],
  index: number,
  hand: 'L' | 'R',
  hands: Hands,
  limits: HandLimits,
): number => {
  const own = hand === 'L' ? hands.left : hands.right;
  const other = hand === 'L' ? hands.right : hands.left;
  const over = overLimit(strokes, index, own, hand, limits);
  let cost = hand === 'L' && own < 0 && other < 0 ? LEFT_LEADS : 0;
  if (over.again > 0) cost += OVER_LIMIT * (1 + over.again);
  if (over.leap > 0) cost += OVER_LIMIT * (1 + over.leap);
  const gap = Math.max(1, over.gap);
  if (own === index - 1 && own >= 0) cost += AGAIN * (Math.min(1, AGAIN_TIME / gap) + limits.sameHand / gap);
  cost += A_BAR * over.bars * Math.min(1, limits.leap / gap);
  const stroke = strokes[index];
  const otherStroke = strokes[other];
  if (stroke !== undefined && otherStroke !== undefined && other < index) {
    const side = hand === 'R' ? 1 : -1;
    const across =
      side * (barPlace(barUnder(otherStroke, hand === 'R' ? 'L' : 'R')) - barPlace(barUnder(stroke, hand)));
    const since = Math.max(1, (stroke.seconds - otherStroke.seconds) * 1000);
    if (across > OVERLAP) cost += CROSSED_BAR * (across - OVERLAP) * Math.min(1, CROSSED_TIME / since);
  }
  return cost;
};

const isBoth = (stroke: Stroke): boolean => stroke.pitches.length > 1;

const stepCost = (
  strokes: readonly Stroke[],
  index: number,
  hand: Hand,
  hands: Hands,
  limits: HandLimits,
): number =>
  (hand === 'R' ? 0 : strikeCost(strokes, index, 'L', hands, limits)) +
  (hand === 'L' ? 0 : strikeCost(strokes, index, 'R', hands, limits));

/** Where the hands are after a stroke, with what is long ago forgotten. */
const after = (hands: Hands, index: number, hand: Hand): Hands => {
  const kept = (last: number, strikes: boolean): number =>
    strikes ? index : index + 1 - last > FORGET ? -1 : last;
  return { left: kept(hands.left, hand !== 'R'), right: kept(hands.right, hand !== 'L') };
};

/** What a sticking costs; a chord is always struck by both hands, whatever is said. */
export const stickingCost = (
  strokes: readonly Stroke[],
  sticking: readonly Hand[],
  limits: HandLimits,
): number => {
  let hands = FREE;
  let cost = 0;
  for (const [index, stroke] of strokes.entries()) {
    const hand = isBoth(stroke) ? 'B' : (sticking[index] ?? 'R');
    cost += stepCost(strokes, index, hand, hands, limits);
    hands = after(hands, index, hand);
  }
  return cost;
};

interface Way {
  readonly hands: Hands;
  readonly cost: number;
  readonly hand: Hand;
  readonly from: Way | undefined;
}

/**
 * The sticking that costs least, exactly: dynamic programming over where each hand last struck.
 * Linear in the number of strokes.
 */
export const suggestSticking = (strokes: readonly Stroke[], limits: HandLimits): readonly Hand[] => {
  let ways: readonly Way[] = [];
  for (const [index, stroke] of strokes.entries()) {
    const best = new Map<number, Way>();
    const hands: readonly Hand[] = isBoth(stroke) ? ['B'] : ['R', 'L'];
    const from: readonly (Way | undefined)[] = index === 0 ? [undefined] : ways;
    for (const way of from) {
      for (const hand of hands) {
        const before = way?.hands ?? FREE;
        const cost = (way?.cost ?? 0) + stepCost(strokes, index, hand, before, limits);
        const now = after(before, index, hand);
        const name = (now.left + 1) * (strokes.length + 1) + now.right + 1;
        const rival = best.get(name);
        if (rival === undefined || cost < rival.cost) best.set(name, { hands: now, cost, hand, from: way });
      }
    }
    ways = [...best.values()];
  }
  let way = ways.reduce<Way | undefined>(
    (so, w) => (so === undefined || w.cost < so.cost ? w : so),
    undefined,
  );
  const sticking: Hand[] = [];
  for (; way !== undefined; way = way.from) sticking.push(way.hand);
  return sticking.reverse();
};

/** The last stroke of each hand before every stroke of a sticking; -1 where there is none near. */
export const handsBefore = (strokes: readonly Stroke[], sticking: readonly Hand[]): readonly Hands[] => {
  let hands = FREE;
  return strokes.map((stroke, index) => {
    const before = hands;
    hands = after(hands, index, isBoth(stroke) ? 'B' : (sticking[index] ?? 'R'));
    return before;
  });
};
