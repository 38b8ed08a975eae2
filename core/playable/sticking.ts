import { isNatural, modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { HandLimits } from './limits.ts';
import type { MalletStroke } from './strokes.ts';

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

/** Strokes as numbers, so that trying many stickings is quick. */
interface Line {
  /** When each is struck, in ms. */
  readonly ms: Float64Array;
  /** Where along the instrument the left and the right hand strike; alike for a single note. */
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly both: readonly boolean[];
}

const lineOf = (strokes: readonly MalletStroke[]): Line => ({
  ms: Float64Array.from(strokes, s => s.seconds * 1000),
  left: Float64Array.from(strokes, s => barPlace(s.pitches[0] ?? 0)),
  right: Float64Array.from(strokes, s => barPlace(s.pitches.at(-1) ?? 0)),
  both: strokes.map(s => s.pitches.length > 1),
});

const gapBetween = (line: Line, before: number, index: number): number =>
  (line.ms[index] ?? 0) - (line.ms[before] ?? 0);
const barsBetween = (line: Line, before: number, index: number, hand: 'L' | 'R'): number => {
  const places = hand === 'L' ? line.left : line.right;
  return Math.abs((places[index] ?? 0) - (places[before] ?? 0));
};
/** By what share of a limit a gap is too short; 0 where it is not. */
const short = (gap: number, limit: number): number => (gap < limit - SLACK ? (limit - gap) / limit : 0);

const strikeCost = (
  line: Line,
  index: number,
  hand: 'L' | 'R',
  own: number,
  other: number,
  limits: HandLimits,
): number => {
  let cost = 0;
  if (own >= 0) {
    const gap = Math.max(1, gapBetween(line, own, index));
    const bars = barsBetween(line, own, index, hand);
    cost += A_BAR * bars * Math.min(1, limits.leap / gap);
    const far = bars > OCTAVE ? short(gap, limits.leap) : 0;
    if (far > 0) cost += OVER_LIMIT * (1 + far);
    if (own === index - 1) {
      const again = short(gap, limits.sameHand);
      if (again > 0) cost += OVER_LIMIT * (1 + again);
      cost += AGAIN * (Math.min(1, AGAIN_TIME / gap) + limits.sameHand / gap);
    }
  } else if (other < 0 && hand === 'L') cost += LEFT_LEADS;
  if (other >= 0) {
    const across =
      hand === 'R'
        ? (line.left[other] ?? 0) - (line.right[index] ?? 0)
        : (line.left[index] ?? 0) - (line.right[other] ?? 0);
    const since = Math.max(1, gapBetween(line, other, index));
    if (across > OVERLAP) cost += CROSSED_BAR * (across - OVERLAP) * Math.min(1, CROSSED_TIME / since);
  }
  return cost;
};

const stepCost = (
  line: Line,
  index: number,
  hand: Hand,
  left: number,
  right: number,
  limits: HandLimits,
): number =>
  (hand === 'R' ? 0 : strikeCost(line, index, 'L', left, right, limits)) +
  (hand === 'L' ? 0 : strikeCost(line, index, 'R', right, left, limits));

/** A hand's last stroke once stroke `index` is done: itself, what it was, or -1 for forgotten. */
const lastOf = (before: number, index: number, strikes: boolean): number =>
  strikes ? index : index + 1 - before > FORGET ? -1 : before;

/** What a sticking costs; a chord is always struck by both hands, whatever is said. */
export const stickingCost = (
  strokes: readonly MalletStroke[],
  sticking: readonly Hand[],
  limits: HandLimits,
): number => {
  const line = lineOf(strokes);
  let left = -1;
  let right = -1;
  let cost = 0;
  for (let index = 0; index < strokes.length; index++) {
    const hand = line.both[index] === true ? 'B' : (sticking[index] ?? 'R');
    cost += stepCost(line, index, hand, left, right, limits);
    left = lastOf(left, index, hand !== 'R');
    right = lastOf(right, index, hand !== 'L');
  }
  return cost;
};

interface Way {
  readonly left: number;
  readonly right: number;
  readonly cost: number;
  readonly hand: Hand;
  readonly from: Way | undefined;
}

/** How many strokes ago, before `index`; forgotten is FORGET ago. */
const ago = (last: number, index: number): number => (last < 0 ? FORGET : index - last);

/** Ways with one number here have the hands at the same strokes: only the cheapest can be the best. */
const slotOf = (index: number, left: number, right: number): number =>
  right === index ? ago(left, index) : FORGET + 1 + ago(right, index);

/**
 * The sticking that costs least, exactly: dynamic programming over where each hand last struck.
 * Linear in the number of strokes.
 */
export const suggestSticking = (strokes: readonly MalletStroke[], limits: HandLimits): readonly Hand[] => {
  const line = lineOf(strokes);
  const start: Way = { left: -1, right: -1, cost: 0, hand: 'R', from: undefined };
  let ways: readonly Way[] = [start];
  for (let index = 0; index < strokes.length; index++) {
    const best: (Way | undefined)[] = new Array<Way | undefined>(2 * FORGET + 2).fill(undefined);
    const hands: readonly Hand[] = line.both[index] === true ? ['B'] : ['R', 'L'];
    for (const way of ways) {
      for (const hand of hands) {
        const cost = way.cost + stepCost(line, index, hand, way.left, way.right, limits);
        const left = lastOf(way.left, index, hand !== 'R');
        const right = lastOf(way.right, index, hand !== 'L');
        const slot = slotOf(index, left, right);
        const rival = best[slot];
        if (rival === undefined || cost < rival.cost) best[slot] = { left, right, cost, hand, from: way };
      }
    }
    ways = best.filter(way => way !== undefined);
  }
  let way = ways.reduce((so, w) => (w.cost < so.cost ? w : so), ways[0] ?? start);
  const sticking: Hand[] = [];
  for (; way.from !== undefined; way = way.from) sticking.push(way.hand);
  return sticking.reverse();
};

/** How far each stroke of a sticking is over the limits of the hands that strike it. */
export const overLimits = (
  strokes: readonly MalletStroke[],
  sticking: readonly Hand[],
  limits: HandLimits,
): readonly { readonly again: boolean; readonly leap: boolean }[] => {
  const line = lineOf(strokes);
  let left = -1;
  let right = -1;
  return strokes.map((_, index) => {
    const hand = line.both[index] === true ? 'B' : (sticking[index] ?? 'R');
    const striking = [
      ...(hand === 'R' || left < 0 ? [] : [{ hand: 'L', before: left } as const]),
      ...(hand === 'L' || right < 0 ? [] : [{ hand: 'R', before: right } as const]),
    ];
    left = lastOf(left, index, hand !== 'R');
    right = lastOf(right, index, hand !== 'L');
    return {
      again: striking.some(
        s => s.before === index - 1 && short(gapBetween(line, s.before, index), limits.sameHand) > 0,
      ),
      leap: striking.some(
        s =>
          barsBetween(line, s.before, index, s.hand) > OCTAVE &&
          short(gapBetween(line, s.before, index), limits.leap) > 0,
      ),
    };
  });
};
