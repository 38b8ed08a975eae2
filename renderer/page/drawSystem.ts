import {
  Barline,
  Formatter,
  type RenderContext,
  Stave,
  StaveConnector,
  type StaveNote,
  StaveTie,
} from 'vexflow/bravura';
import { add, type Fraction, toNumber } from '../../core/foundation/fraction.ts';
import { signature } from '../../core/foundation/key.ts';
import { tactus } from '../../core/foundation/metre.ts';
import { valueOf } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import { buildBar, type DrawnBar } from './drawnNotes.ts';
import type { SystemPlan } from './layout.ts';

/** A note head or rest as it stands on the page, in CSS pixels of its system. */
export interface DrawnSymbol {
  readonly part: string;
  readonly refs: readonly string[];
  /** From the first full barline, in semibreves. */
  readonly at: number;
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  readonly tiedFrom: boolean;
  readonly rest: boolean;
  readonly element: SVGElement | undefined;
}

export interface DrawnStave {
  readonly part: string;
  readonly top: number;
  readonly bottom: number;
  /** The highest ink above this stave, for placing brackets. */
  readonly inkTop: number;
  readonly inkBottom: number;
}

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

export interface SystemOptions {
  readonly scale: number;
  /** Stave units from the top of one stave to the next. */
  readonly staveGap: number;
  readonly topGap: number;
  readonly names: boolean;
  readonly showTempo: boolean;
}

const KEY_NAMES = ['Cb', 'Gb', 'Db', 'Ab', 'Eb', 'Bb', 'F', 'C', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];
const keyText = (score: Score): string => KEY_NAMES[signature(score.key) + 7] ?? 'C';

/** Stave units that clef, key signature and metre take. */
export const headWidth = (score: Score, first: boolean): number =>
  46 + Math.abs(signature(score.key)) * 11 + (first ? 34 : 0) + 14;

const nameWidth = (score: Score, first: boolean): number =>
  Math.max(...score.parts.map(p => (first ? p.name : p.short).length)) * 8 + 16;

/** Left margin for part names, in stave units. */
export const margin = (score: Score, names: boolean, first: boolean): number =>
  (names ? nameWidth(score, first) : 0) + (score.parts.length > 1 ? 14 : 2);

/** Draws one system into a VexFlow context and tells where everything stands. */
export const drawSystem = (
  context: RenderContext,
  score: Score,
  plan: SystemPlan,
  options: SystemOptions,
  height: number,
): DrawnSystem => {
  const first = plan.first === 0;
  const last = plan.first + plan.widths.length === score.barCount;
  const left = margin(score, options.names, first);
  const head = headWidth(score, first);
  const drawn: DrawnBar[][] = [];
  const staves: Stave[][] = [];
  const barlines: number[] = [];
  let x = left;
  plan.widths.forEach((width, i) => {
    const barWidth = width + (i === 0 ? head : 0);
    const column = score.parts.map((part, p) => {
      const stave = new Stave(x, options.topGap + p * options.staveGap, barWidth, {
        spaceAboveStaffLn: 0,
        leftBar: false,
      });
      if (i === 0) {
        stave.addClef(part.clef).addKeySignature(keyText(score));
        if (first) stave.addTimeSignature(`${String(score.metre.beats)}/${String(score.metre.unit)}`);
        if (first && p === 0 && options.showTempo) addTempo(stave, score, options.topGap);
      }
      if (last && i === plan.widths.length - 1) stave.setEndBarType(Barline.type.END);
      return stave;
    });
    const start = Math.max(...column.map(s => s.getNoteStartX()));
    column.forEach(s => {
      s.setNoteStartX(i === 0 ? start : x + 14);
      s.setContext(context).draw();
    });
    const bars = score.parts.flatMap(part => {
      const bar = part.bars[plan.first + i];
      return bar === undefined ? [] : [buildBar(part, bar)];
    });
    format(bars, column, x + barWidth);
    bars.forEach((bar, p) => {
      const stave = column[p];
      if (stave === undefined) return;
      bar.voice.draw(context, stave);
      bar.beams.forEach(beam => beam.setContext(context).draw());
      bar.tuplets.forEach(tuplet => tuplet.setContext(context).draw());
    });
    drawn.push(bars);
    staves.push(column);
    x += barWidth;
    barlines.push(x * options.scale);
  });
  connect(context, staves, score, last);
  drawTies(context, score, drawn);
  return measure(score, plan, drawn, staves, barlines, options, height);
};

const format = (bars: readonly DrawnBar[], column: readonly Stave[], endX: number): void => {
  const formatter = new Formatter({ softmaxFactor: 5 });
  bars.forEach((bar, p) => {
    bar.notes.forEach(note => {
      const stave = column[p];
      if (stave !== undefined) note.setStave(stave);
    });
    formatter.joinVoices([bar.voice]);
  });
  const room = endX - (column[0]?.getNoteStartX() ?? 0) - 16;
  formatter.format(
    bars.map(bar => bar.voice),
    Math.max(20, room),
  );
};

/** The metronome mark stands at the very top of the system, above brackets and strike line. */
const addTempo = (stave: Stave, score: Score, topGap: number): void => {
  const value = valueOf(tactus(score.metre)) ?? { base: 4, dots: 0 };
  const names: Readonly<Record<number, string>> = { 1: 'w', 2: 'h', 4: 'q', 8: '8', 16: '16' };
  stave.setTempo(
    { duration: names[value.base] ?? 'q', dots: value.dots, bpm: Math.round(score.tempo) },
    46 - topGap,
  );
};

const connect = (
  context: RenderContext,
  staves: readonly (readonly Stave[])[],
  score: Score,
  last: boolean,
): void => {
  const [column] = staves;
  const top = column?.[0];
  const bottom = column?.at(-1);
  if (top === undefined || bottom === undefined) return;
  new StaveConnector(top, bottom).setType('singleLeft').setContext(context).draw();
  if (score.parts.length > 1) {
    new StaveConnector(top, bottom).setType('bracket').setContext(context).draw();
    staves.forEach(bars => {
      const a = bars[0];
      const b = bars.at(-1);
      const end = last && bars === staves.at(-1);
      if (a !== undefined && b !== undefined) {
        new StaveConnector(a, b)
          .setType(end ? 'boldDoubleRight' : 'singleRight')
          .setContext(context)
          .draw();
      }
    });
  }
};

const drawTies = (context: RenderContext, score: Score, drawn: readonly (readonly DrawnBar[])[]): void => {
  score.parts.forEach((_, p) => {
    const row = drawn.flatMap(bars => {
      const bar = bars[p];
      return bar === undefined ? [] : bar.bar.symbols.map((symbol, i) => ({ symbol, note: bar.notes[i] }));
    });
    row.forEach(({ symbol, note }, i) => {
      if (note === undefined) return;
      const all = symbol.pitches.map((_pitch, k) => k);
      if (symbol.tiedTo) tie(context, note, row[i + 1]?.note, all);
      if (symbol.tiedFrom && i === 0) tie(context, undefined, note, all);
    });
  });
};

const tie = (
  context: RenderContext,
  from: StaveNote | undefined,
  to: StaveNote | undefined,
  indexes: number[],
): void => {
  new StaveTie({ firstNote: from ?? null, lastNote: to ?? null, firstIndexes: indexes, lastIndexes: indexes })
    .setContext(context)
    .draw();
};

const headX = (note: StaveNote): number => note.getAbsoluteX() + note.getGlyphWidth() / 2;

const measure = (
  score: Score,
  plan: SystemPlan,
  drawn: readonly (readonly DrawnBar[])[],
  staves: readonly (readonly Stave[])[],
  barlines: readonly number[],
  options: SystemOptions,
  height: number,
): DrawnSystem => {
  const s = options.scale;
  const symbols: DrawnSymbol[] = [];
  const anchors = new Map<number, number>();
  drawn.forEach(bars => {
    bars.forEach((bar, p) => {
      bar.bar.symbols.forEach((symbol, i) => {
        const note = bar.notes[i];
        const part = score.parts[p];
        if (note === undefined || part === undefined) return;
        const rest = symbol.pitches.length === 0;
        const ys = note.getYs();
        const stem = !rest && note.hasStem() ? note.getStemExtents() : undefined;
        const at = toNumber(symbol.at);
        const x = headX(note) * s;
        if (symbol.wholeBar !== true) anchors.set(at, Math.min(anchors.get(at) ?? Infinity, x));
        const marks = [...ys, ...(stem === undefined ? [] : [stem.topY, stem.baseY])];
        symbols.push({
          part: part.id,
          refs: symbol.pitches.map(pitch => pitch.ref),
          at,
          x,
          top: (Math.min(...marks) - 6) * s,
          bottom: (Math.max(...marks) + 6) * s,
          tiedFrom: symbol.tiedFrom,
          rest,
          element: note.getSVGElement() ?? undefined,
        });
      });
    });
  });
  const startX = (staves[0]?.[0]?.getNoteStartX() ?? 0) * s;
  const endX = barlines.at(-1) ?? startX;
  const barStarts = drawn.map(bars => bars[0]?.bar);
  barStarts.forEach((bar, i) => {
    if (bar === undefined) return;
    const at = toNumber(bar.at);
    const from = i === 0 ? startX : (barlines[i - 1] ?? startX);
    if (!anchors.has(at)) anchors.set(at, from + 16 * s);
  });
  const lastBar = barStarts.at(-1);
  const to: Fraction = lastBar === undefined ? { n: 0, d: 1 } : add(lastBar.at, lastBar.length);
  anchors.set(toNumber(to), endX);
  return {
    first: plan.first,
    bars: plan.widths.length,
    height,
    from: toNumber(barStarts[0]?.at ?? { n: 0, d: 1 }),
    to: toNumber(to),
    startX,
    endX,
    symbols,
    anchors: [...anchors].map(([at, x]) => ({ at, x })).sort((a, b) => a.at - b.at),
    barlines,
    staves: score.parts.map((part, p) => {
      const stave = staves[0]?.[p];
      const top = (stave?.getYForLine(0) ?? 0) * s;
      const bottom = (stave?.getYForLine(4) ?? 0) * s;
      const own = symbols.filter(symbol => symbol.part === part.id);
      return {
        part: part.id,
        top,
        bottom,
        inkTop: Math.min(top, ...own.map(symbol => symbol.top)),
        inkBottom: Math.max(bottom, ...own.map(symbol => symbol.bottom)),
      };
    }),
  };
};
