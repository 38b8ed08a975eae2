import type { NameStyle } from '../../core/foundation/noteValue.ts';
import { type RenderContext, type StaveNote, StaveTie } from 'vexflow/bravura';
import type { Score, ScoreBar, ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import type { BarIndex } from '../../core/foundation/units.ts';
import { metreChange } from '../../core/score/metreAt.ts';
import { signatureChange } from '../../core/score/keyAt.ts';
import { drawLines } from './barlines.ts';
import { buildBar, type DrawnBar, type Weight } from './drawnNotes.ts';
import { endingMarks } from './endingMarks.ts';
import { headedStave } from './frame.ts';
import { headWidthOf } from './glyphs.ts';
import { graceSlur } from './graceSlur.ts';
import { keySigns, keySignsWidth } from './keySigns.ts';
import { metreSigns } from './metreSigns.ts';
import { longRest } from './longRest.ts';
import { barNumber, headMarks } from './headLine.ts';
import { underMarks } from './marks.ts';
import { phraseMarks } from './phraseMarks.ts';
import { PageContext } from './pageContext.ts';
import { svg } from './svg.ts';
import {
  barEdges,
  type DrawnSymbol,
  type DrawnSystem,
  headsOf,
  placesOf,
  type SystemFrame,
} from './system.ts';

export interface DrawOptions {
  readonly scale: number;
  readonly weight: Weight;
  /** How much larger letters, metronome marks and bar numbers are than their stave says. */
  readonly signs: number;
  readonly tempo: boolean;
  readonly nameStyle: NameStyle;
}

/**
 * Draws one laid-out system into an SVG of its own, and tells the element of every symbol, in the
 * order of `placed.symbols`.
 */
export const drawSystem = (
  host: HTMLElement,
  score: Score,
  frame: SystemFrame,
  placed: DrawnSystem,
  width: number,
  options: DrawOptions,
): readonly (SVGElement | undefined)[] => {
  const context = new PageContext(host);
  context.resize(width, placed.height);
  context.scale(options.scale, options.scale);
  const root = context.svg;
  root.setAttribute('aria-hidden', 'true');
  const edges = barEdges(frame);
  const lines = drawLines(
    score,
    frame.plan,
    { left: frame.left, ends: edges.slice(1), tops: frame.tops, weight: options.weight },
    frame.head,
  );
  root.append(...lines);
  const rows = score.parts.map((part, p) => drawStave(context, score, part, p, frame, edges, options.weight));
  rows.forEach(row => {
    drawTies(context, row);
  });
  root.append(
    ...headMarks(score, frame, placed, edges, width / options.scale, options),
    ...(frame.endingLine === undefined
      ? []
      : endingMarks(score, frame.plan.first, edges, frame.endingLine, options.weight)),
    ...barNumber(score, frame, options.signs),
  );
  if (options.weight !== 1) {
    const stem = String(1.5 * options.weight);
    for (const path of root.querySelectorAll('.vf-stem path')) path.setAttribute('stroke-width', stem);
  }
  const elements = tagged(score, frame, rows);
  elements.forEach((element, k) => {
    const symbol = placed.symbols[k];
    if (element !== undefined && symbol !== undefined) element.append(hitBox(symbol, options.scale));
  });
  return elements;
};

/** What is clicked or touched: at least 24 px wide (WCAG 2.2, target size). */
const hitBox = (symbol: DrawnSymbol, scale: number): SVGElement => {
  const half = Math.max(9 * scale, 12) / scale;
  return svg('rect', {
    class: 'hit',
    x: symbol.x / scale - half,
    y: symbol.top / scale - 3,
    width: 2 * half,
    height: (symbol.bottom - symbol.top) / scale + 6,
    fill: 'none',
    stroke: 'none',
  });
};

const drawStave = (
  context: PageContext,
  score: Score,
  part: ScorePart,
  p: number,
  frame: SystemFrame,
  edges: readonly number[],
  weight: Weight,
): readonly DrawnBar[] => {
  const { plan } = frame;
  const right = edges.at(-1) ?? frame.left;
  const top = frame.tops[p] ?? 0;
  const stave = headedStave(score, part, frame.left, top, right - frame.left, plan.first);
  stave.setContext(context).draw();
  const start = edges[0] ?? 0;
  stave.setNoteStartX(start);
  const heads: (readonly number[])[] = [];
  const bars = plan.bars.flatMap((_, b) => {
    const bar = part.bars[plan.first + b];
    if (bar === undefined) return [];
    const xs = headsOf(frame, edges, placesOf(score, plan.first + b), b, bar.symbols);
    heads[b] = xs;
    // VexFlow counts from the note start and adds the padding of a stave.
    return [buildBar(part, bar, stave, xs, start + STAVE_PADDING, weight)];
  });
  for (const bar of bars) {
    for (const note of bar.notes) note.setContext(context).drawWithStyle();
    context.svg.append(...bar.notes.flatMap(note => graceSlur(note) ?? []));
    for (const beam of bar.beams) beam.setContext(context).drawWithStyle();
    for (const tuplet of bar.tuplets) tuplet.setContext(context).drawWithStyle();
  }
  plan.bars.forEach(({ signs }, b) => {
    const count = part.bars[plan.first + b]?.restBars;
    const left = edges[b] ?? 0;
    if (b > 0) context.svg.append(...newSigns(score, part, plan.first + b, left, top));
    if (count !== undefined)
      context.svg.append(longRest(left + signs + 14, (edges[b + 1] ?? left) - 14, top, count));
  });
  if (plan.courtesy > 0)
    context.svg.append(...newSigns(score, part, plan.first + plan.bars.length, right, top));
  const room = frame.rooms[p];
  if (room !== undefined) {
    const marks = underMarks(score, p, plan.first, plan.bars.length, room, top + 40, (b, i) => {
      const left = heads[b]?.[i] ?? 0;
      const base = part.bars[plan.first + b]?.symbols[i]?.value.base ?? 4;
      return { left, middle: left + headWidthOf(base) / 2, up: bars[b]?.notes[i]?.getStemDirection() === 1 };
    });
    context.svg.append(...marks);
    const stave = {
      part,
      first: plan.first,
      count: plan.bars.length,
      room,
      top,
      left: start,
      right,
      heads,
      barlines: edges.slice(1, -1),
      weight,
    };
    context.svg.append(...phraseMarks(stave));
  }
  return bars;
};

/** A new key signature, and after it a new time signature, where a bar begins with them. */
const newSigns = (score: Score, part: ScorePart, index: BarIndex, x: number, top: number): SVGElement[] => {
  const key = signatureChange(score, index);
  const metre = metreChange(score, index);
  return [
    ...(key === undefined ? [] : [keySigns(key, part.clef, x, top)]),
    ...(metre === undefined ? [] : [metreSigns(metre, x + keySignsWidth(key), top)]),
  ];
};

/** What VexFlow adds before the first note (its metric `Stave.padding`). */
const STAVE_PADDING = 12;

const drawTies = (context: RenderContext, bars: readonly DrawnBar[]): void => {
  const row = bars.flatMap(bar => bar.bar.symbols.map((symbol, i) => ({ symbol, note: bar.notes[i] })));
  row.forEach(({ symbol, note }, i) => {
    if (note === undefined) return;
    const sides = tieSides(symbol, note.getStemDirection());
    if (symbol.tiedTo) drawTie(context, note, row[i + 1]?.note, sides);
    if (symbol.tiedFrom && i === 0) drawTie(context, undefined, note, sides);
  });
};

const UP = -1;
const DOWN = 1;

/** A single note is tied away from its stem; of a chord the upper notes are tied above, the lower below. */
const tieSides = (symbol: ScoreSymbol, stem: number): readonly number[] => {
  const count = symbol.pitches.length;
  if (count === 1) return [stem > 0 ? DOWN : UP];
  return symbol.pitches.map((_, k) => (k * 2 >= count ? UP : DOWN));
};

const drawTie = (
  context: RenderContext,
  from: StaveNote | undefined,
  to: StaveNote | undefined,
  sides: readonly number[],
): void => {
  sides.forEach((side, k) => {
    new StaveTie({ firstNote: from ?? null, lastNote: to ?? null, firstIndexes: [k], lastIndexes: [k] })
      .setDirection(side)
      .setContext(context)
      .drawWithStyle();
  });
};

/** Marks every symbol's element with what it is, and gives them in the order of `placeSystem`. */
const tagged = (
  score: Score,
  frame: SystemFrame,
  rows: readonly (readonly DrawnBar[])[],
): readonly (SVGElement | undefined)[] =>
  frame.plan.bars.flatMap((_, b) =>
    score.parts.flatMap((part, p) => {
      const drawn = rows[p]?.[b];
      return drawn === undefined ? [] : drawn.notes.map((note, i) => tag(part, drawn.bar, i, note));
    }),
  );

const tag = (part: ScorePart, bar: ScoreBar, i: number, note: StaveNote): SVGElement | undefined => {
  const element = note.getSVGElement() ?? undefined;
  const symbol = bar.symbols[i];
  if (element === undefined || symbol === undefined) return element;
  element.dataset['refs'] = symbol.pitches.map(p => p.ref).join(' ');
  element.dataset['part'] = part.id;
  if (symbol.tiedFrom) element.dataset['tied'] = 'yes';
  return element;
};
