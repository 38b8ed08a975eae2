import { toNumber } from '../../core/foundation/fraction.ts';
import type { Score } from '../../core/score/score.ts';
import type { SystemPlan } from './layout.ts';
import { headWidthOf, restWidthOf } from './glyphs.ts';
import { inkOf } from './stems.ts';
import type { StaveRoom } from './vertical.ts';

/** A note head or rest as it stands on the page, in CSS pixels of its system. */
export interface DrawnSymbol {
  readonly part: string;
  readonly refs: readonly string[];
  /** From the first full barline, in semibreves. */
  readonly at: number;
  /** Middle of the head. */
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  readonly tiedFrom: boolean;
  readonly rest: boolean;
  /** Undefined while its system is not drawn. */
  readonly element: SVGElement | undefined;
}

export interface DrawnStave {
  readonly part: string;
  readonly top: number;
  readonly bottom: number;
  /** The highest ink above this stave, for placing brackets. */
  readonly inkTop: number;
  /** The lowest ink below it, rows of text included. */
  readonly inkBottom: number;
}

/** Where everything in a system stands, in CSS pixels; the same whether it is drawn yet or not. */
export interface DrawnSystem {
  readonly first: number;
  readonly bars: number;
  readonly height: number;
  readonly from: number;
  readonly to: number;
  readonly startX: number;
  readonly endX: number;
  readonly symbols: readonly DrawnSymbol[];
  readonly staves: readonly DrawnStave[];
  /** Places and where they are drawn, in order, for cursors and strike lines. */
  readonly anchors: readonly { readonly at: number; readonly x: number }[];
  readonly barlines: readonly number[];
}

/** A system laid out, before anything is drawn. In stave units. */
export interface SystemFrame {
  readonly plan: SystemPlan;
  readonly first: boolean;
  /** Where the staves begin, and how much clef, signature and metre take from there. */
  readonly left: number;
  readonly head: number;
  /** Top line of each stave. */
  readonly tops: readonly number[];
  readonly rooms: readonly StaveRoom[];
  readonly height: number;
  /** Baseline of letters and metronome marks; undefined when there are none. */
  readonly headLine: number | undefined;
  /** Middle of the letter in the room of the first stave, over its clef; undefined where there is none. */
  readonly startLetter: number | undefined;
  /** The line over first- and second-time bars; undefined when there are none. */
  readonly endingLine: number | undefined;
}

/** Left edge of every bar, and the right edge of the last. */
export const barEdges = (frame: SystemFrame): readonly number[] => {
  let x = frame.left + frame.head;
  return [x, ...frame.plan.bars.map(bar => (x += bar.width))];
};

/**
 * Left edge of the head of every symbol of a bar; a whole-bar rest stands in the middle.
 * @param b bar of the system, from 0
 */
export const headsOf = (
  frame: SystemFrame,
  edges: readonly number[],
  places: readonly number[],
  b: number,
  symbols: readonly { readonly onset: { n: number; d: number }; readonly wholeBar?: boolean }[],
): readonly number[] => {
  const left = edges[b] ?? 0;
  const right = edges[b + 1] ?? left;
  const xs = frame.plan.bars[b]?.xs ?? [];
  return symbols.map(symbol => {
    if (symbol.wholeBar === true)
      return (left + (frame.plan.bars[b]?.signs ?? 0) + right) / 2 - restWidthOf(1) / 2;
    const column = places.indexOf(toNumber(symbol.onset));
    return left + (xs[column] ?? 0);
  });
};

/** Places of the columns of a bar, in order, as `columnsOf` finds them. */
export const placesOf = (score: Score, index: number): readonly number[] => {
  const places = new Set<number>();
  for (const part of score.parts) {
    for (const symbol of part.bars[index]?.symbols ?? []) {
      if (symbol.wholeBar !== true) places.add(toNumber(symbol.onset));
    }
  }
  return [...places].sort((a, b) => a - b);
};

/** Everything overlays need to know about a system, by calculation alone. */
export const placeSystem = (score: Score, frame: SystemFrame, scale: number): DrawnSystem => {
  const { plan } = frame;
  const edges = barEdges(frame);
  const symbols: DrawnSymbol[] = [];
  const anchors = new Map<number, number>();
  plan.bars.forEach((_, b) => {
    const places = placesOf(score, plan.first + b);
    score.parts.forEach((part, p) => {
      const bar = part.bars[plan.first + b];
      if (bar === undefined) return;
      const heads = headsOf(frame, edges, places, b, bar.symbols);
      const ink = inkOf(bar, part.clef);
      const top = frame.tops[p] ?? 0;
      bar.symbols.forEach((symbol, i) => {
        const rest = symbol.pitches.length === 0;
        const width = rest ? restWidthOf(symbol.value.base) : headWidthOf(symbol.value.base);
        const x = ((heads[i] ?? 0) + width / 2) * scale;
        const at = toNumber(symbol.onset);
        if (symbol.wholeBar !== true) anchors.set(at, Math.min(anchors.get(at) ?? Infinity, x));
        symbols.push({
          part: part.id,
          refs: symbol.pitches.map(pitch => pitch.ref),
          at,
          x,
          top: (top + (ink[i]?.top ?? 0)) * scale,
          bottom: (top + (ink[i]?.bottom ?? 40)) * scale,
          tiedFrom: symbol.tiedFrom,
          rest,
          element: undefined,
        });
      });
    });
  });
  const bars = score.parts[0]?.bars.slice(plan.first, plan.first + plan.bars.length) ?? [];
  bars.forEach((bar, b) => {
    const at = toNumber(bar.start);
    if (!anchors.has(at)) anchors.set(at, ((edges[b] ?? 0) + (plan.bars[b]?.signs ?? 0) + 20) * scale);
  });
  const lastBar = bars.at(-1);
  const to = lastBar === undefined ? 0 : toNumber(lastBar.start) + toNumber(lastBar.length);
  const endX = (edges.at(-1) ?? 0) * scale;
  anchors.set(to, endX);
  return {
    first: plan.first,
    bars: plan.bars.length,
    height: frame.height * scale,
    from: toNumber(bars[0]?.start ?? { n: 0, d: 1 }),
    to,
    startX: (frame.left + frame.head) * scale,
    endX,
    symbols,
    anchors: [...anchors].map(([at, x]) => ({ at, x })).sort((a, b) => a.at - b.at),
    barlines: edges.slice(1).map(x => x * scale),
    staves: score.parts.map((part, p) => {
      const top = frame.tops[p] ?? 0;
      const room = frame.rooms[p];
      return {
        part: part.id,
        top: top * scale,
        bottom: (top + 40) * scale,
        inkTop: (top - (room?.above ?? 0)) * scale,
        inkBottom: (top + 40 + (room?.below ?? 0)) * scale,
      };
    }),
  };
};

/** Where a place is drawn in a system; clamped to its ends. */
export const xOfPlace = (system: DrawnSystem, at: number): number => {
  const { anchors } = system;
  let before = anchors[0];
  for (const anchor of anchors) {
    if (anchor.at > at) {
      if (before === undefined || before.at >= at) return before?.x ?? anchor.x;
      return before.x + ((anchor.x - before.x) * (at - before.at)) / (anchor.at - before.at);
    }
    before = anchor;
  }
  return before?.x ?? system.endX;
};
