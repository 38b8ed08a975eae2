import { toNumber } from '../../core/foundation/fraction.ts';
import type { ScoreBar, ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import { rollMarks } from '../../core/score/roll.ts';
import { DOT_WIDTH, FERMATA_GLYPH, headWidthOf, PEDAL_GLYPH, ROLL_GLYPH } from './glyphs.ts';
import { glissandi } from './glissandi.ts';
import { hairpinPath, slurPath, slursIn } from './slurs.ts';
import { reachBefore } from './spacing.ts';
import { FERMATA_HEIGHT, inkOf, ROLL_OVER, stemDirections, stepsOf } from './stems.ts';
import { bar as line, NOTATION, SANS, svg, text } from './svg.ts';
import { openHairpin, type StaveRoom } from './vertical.ts';

/** One stave of a system, as marks of phrases see it. In stave units. */
export interface PhraseStave {
  readonly part: ScorePart;
  readonly first: number;
  readonly count: number;
  readonly room: StaveRoom;
  /** Its top line. */
  readonly top: number;
  /** Where the notes of the system begin and end. */
  readonly left: number;
  readonly right: number;
  /** Left edge of the head of every symbol, bar by bar. */
  readonly heads: readonly (readonly number[])[];
  /** Where its bars meet. */
  readonly barlines: readonly number[];
  readonly weight: number;
}

/** Size of words over the stave, in stave units. */
const WORDS_SIZE = 16;
/** About how wide such words are. */
const wordsWidth = (words: string): number => words.length * WORDS_SIZE * 0.5;

interface Placed {
  readonly bar: ScoreBar;
  readonly symbol: ScoreSymbol;
  readonly index: number;
  readonly left: number;
  readonly width: number;
}

const placedIn = (stave: PhraseStave): readonly Placed[] =>
  stave.part.bars.slice(stave.first, stave.first + stave.count).flatMap((bar, b) =>
    bar.symbols.map((symbol, index) => ({
      bar,
      symbol,
      index,
      left: stave.heads[b]?.[index] ?? stave.left,
      width: headWidthOf(symbol.value.base),
    })),
  );

const slurs = (stave: PhraseStave): SVGElement[] => {
  const x = (end: { bar: number; symbol: number }): number => {
    const symbol = stave.part.bars[stave.first + end.bar]?.symbols[end.symbol];
    return (stave.heads[end.bar]?.[end.symbol] ?? stave.left) + headWidthOf(symbol?.value.base ?? 4) / 2;
  };
  return slursIn(stave.part, stave.first, stave.count).map(shape =>
    slurPath(
      shape,
      shape.from === undefined ? stave.left + 2 : x(shape.from),
      shape.to === undefined ? stave.right - 4 : x(shape.to),
      stave.top,
    ),
  );
};

/** Room a dynamic sign takes on either side of its note's middle. */
const signHalf = (symbol: ScoreSymbol | undefined): number =>
  symbol?.dynamic === undefined ? 0 : 8 + 4 * symbol.dynamic.length;
const LEAST_HAIRPIN = 18;

/** Hairpins stand in the row of dynamics, between the signs they lead from and to. */
const hairpins = (stave: PhraseStave): SVGElement[] => {
  const { dynamics } = stave.room;
  if (dynamics === undefined) return [];
  const y = stave.top + 40 + dynamics - 6;
  const all = placedIn(stave);
  const out: SVGElement[] = [];
  const whole = stave.part.bars.flatMap(bar => bar.symbols);
  const draw = (start: ScoreSymbol, x1: number, x2: number, opens: boolean, closes: boolean): void => {
    const end = whole.slice(whole.indexOf(start) + 1).find(s => s.hairpinEnds === true);
    const from = toNumber(start.onset);
    const to = end === undefined ? from : toNumber(end.onset) + toNumber(end.duration);
    const startOfSystem = toNumber(stave.part.bars[stave.first]?.start ?? { n: 0, d: 1 });
    const last = stave.part.bars[stave.first + stave.count - 1];
    const endOfSystem = last === undefined ? to : toNumber(last.start) + toNumber(last.length);
    const share = (at: number): number =>
      to > from ? Math.min(1, Math.max(0, (at - from) / (to - from))) : 0;
    const open = [opens ? 0 : share(startOfSystem), closes ? 1 : share(endOfSystem)] as const;
    const shares: readonly [number, number] =
      start.hairpin === 'crescendo' ? open : [1 - open[0], 1 - open[1]];
    out.push(hairpinPath(x1, Math.max(x2, x1 + LEAST_HAIRPIN), y, shares, stave.weight));
  };
  let open = openHairpin(stave.part, stave.first);
  let from = stave.left + 2;
  let opens = false;
  for (const [i, { symbol, left, width }] of all.entries()) {
    if (symbol.hairpin !== undefined) {
      open = symbol;
      opens = true;
      from = Math.max(left, left + width / 2 + signHalf(symbol));
    }
    if (symbol.hairpinEnds === true && open !== undefined) {
      const next = all.slice(i + 1).find(other => other.symbol.pitches.length > 0);
      const most = next === undefined ? Infinity : next.left + next.width / 2 - signHalf(next.symbol) - 6;
      draw(open, from, Math.min(left + width + 10, most, stave.right - 4), opens, true);
      open = undefined;
    }
  }
  if (open !== undefined) draw(open, from, stave.right - 4, opens, false);
  return out;
};

/** How wide the two signs are, and the least air between them. */
const PEDAL_WIDTH = { down: 33, up: 16, air: 3 } as const;

/** Ped. under the note with which the pedal goes down; the star before what comes after it goes up, one by one on a line of their own. */
const pedals = (stave: PhraseStave): SVGElement[] => {
  const { pedals: baseline } = stave.room;
  if (baseline === undefined) return [];
  const all = placedIn(stave);
  const sign = (kind: 'down' | 'up', x: number): SVGElement =>
    text(x, stave.top + 40 + baseline, PEDAL_GLYPH[kind], {
      class: `pedal-${kind}`,
      'font-family': NOTATION,
      'font-size': 32,
    });
  let taken = -Infinity;
  return all.flatMap(({ symbol, left, width }, i) => {
    const out: SVGElement[] = [];
    if (symbol.pedal === true) {
      const x = Math.max(left, taken);
      out.push(sign('down', x));
      taken = x + PEDAL_WIDTH.down + PEDAL_WIDTH.air;
    }
    if (symbol.pedalEnds === true) {
      const next = all[i + 1]?.left ?? stave.right;
      const before = next - PEDAL_WIDTH.up - PEDAL_WIDTH.air;
      const x = Math.max(taken, left + width, before);
      out.push(sign('up', Math.min(x, Math.max(taken, stave.right - PEDAL_WIDTH.up))));
      taken = x + PEDAL_WIDTH.up + PEDAL_WIDTH.air;
    }
    return out;
  });
};

/** Words stand on one line over the stave; one that has no room before the next pushes it on. */
const words = (stave: PhraseStave): SVGElement[] => {
  const { words: baseline } = stave.room;
  if (baseline === undefined) return [];
  let taken = -Infinity;
  return placedIn(stave).flatMap(({ symbol, left }) => {
    if (symbol.words === undefined) return [];
    const width = wordsWidth(symbol.words);
    const x = Math.max(Math.min(left, stave.right - width), taken);
    taken = x + width + 10;
    return [
      text(x, stave.top - baseline, symbol.words, {
        class: 'stave-words',
        'font-family': SANS,
        'font-size': WORDS_SIZE,
        'font-style': 'italic',
      }),
    ];
  });
};

const fermatas = (stave: PhraseStave): SVGElement[] =>
  placedIn(stave).flatMap(({ bar, symbol, index, left, width }) => {
    if (symbol.fermata !== true) return [];
    const ink = inkOf(bar, stave.part.clef, stemDirections(bar, stave.part.clef))[index];
    // The lower edge of the sign lies on its baseline.
    return [
      text(left + width / 2, stave.top + (ink?.top ?? 0) + 14, FERMATA_GLYPH, {
        class: 'fermata',
        'font-family': NOTATION,
        'font-size': 40,
        'text-anchor': 'middle',
      }),
    ];
  });

/** A cross over a note on whose bar the mallet stays; under a fermata where there is one (common practice, no source). */
const deadStrokes = (stave: PhraseStave): SVGElement[] =>
  placedIn(stave).flatMap(({ bar, symbol, index, left, width }) => {
    if (symbol.dead !== true) return [];
    const ink = inkOf(bar, stave.part.clef, stemDirections(bar, stave.part.clef))[index];
    const y = (ink?.top ?? 0) + (symbol.fermata === true ? FERMATA_HEIGHT : 0) + 7;
    const [x, arm] = [left + width / 2, 5];
    const cross = svg('g', { class: 'dead-stroke' });
    const thick = 1.6 * stave.weight;
    cross.append(
      line(x - arm, stave.top + y - thick / 2, 2 * arm, thick),
      line(x - thick / 2, stave.top + y - arm, thick, 2 * arm),
    );
    return [cross];
  });

/** How far a tie that leads nowhere reaches beside its head. */
const RING = 16;

/** Laissez vibrer: a short tie from each head to nothing, on the side of ties. */
const rings = (stave: PhraseStave): SVGElement[] =>
  placedIn(stave).flatMap(({ bar, symbol, index, left, width }) => {
    if (symbol.ring !== true) return [];
    const up = stemDirections(bar, stave.part.clef)[index] === 'up';
    const steps = stepsOf(symbol, stave.part.clef);
    const dots = symbol.value.dots > 0 ? symbol.value.dots * DOT_WIDTH + 3 : 0;
    return steps.map((step, k) => {
      const down = steps.length === 1 ? up : k * 2 < steps.length;
      const bow = down ? 1 : -1;
      const y = stave.top + 20 - step * 5 + bow * 5;
      const from = left + width + 2 + dots;
      const path = [
        `M ${String(from)} ${String(y)}`,
        `Q ${String(from + RING / 2)} ${String(y + bow * 9)} ${String(from + RING)} ${String(y)}`,
        `Q ${String(from + RING / 2)} ${String(y + bow * 6.4)} ${String(from)} ${String(y)} Z`,
      ].join(' ');
      return svg('path', { class: 'let-ring', d: path, fill: 'black', stroke: 'none' });
    });
  });

/** From the outermost head to the middle of the strokes; nearer where a beam or a flag is. */
const ROLL_ON_STEM = { plain: 25, flagged: 15 } as const;

/** The strokes of a roll stand on the stem, or over a head that has none. */
const rolls = (stave: PhraseStave): SVGElement[] =>
  placedIn(stave).flatMap(({ bar, symbol, index, left, width }) => {
    if (symbol.roll !== true) return [];
    const up = stemDirections(bar, stave.part.clef)[index] === 'up';
    const ys = stepsOf(symbol, stave.part.clef).map(step => 20 - step * 5);
    const away = symbol.value.base >= 8 ? ROLL_ON_STEM.flagged : ROLL_ON_STEM.plain;
    const [x, y] =
      symbol.value.base === 1
        ? [left + width / 2, Math.min(...ys) - ROLL_OVER / 2 - 4]
        : up
          ? [left + width - 0.7, Math.min(...ys) - away]
          : [left + 0.7, Math.max(...ys) + away];
    return [
      text(x, stave.top + y, ROLL_GLYPH[rollMarks(symbol)], {
        class: 'roll',
        'font-family': NOTATION,
        'font-size': 40,
      }),
    ];
  });

const lines = (stave: PhraseStave): SVGElement[] =>
  glissandi(stave, (b, i) => {
    const bar = stave.part.bars[stave.first + b];
    const symbol = bar?.symbols[i];
    if (bar === undefined || symbol === undefined) return 0;
    return reachBefore(symbol, stave.part, stemDirections(bar, stave.part.clef)[i]);
  });

/** Slurs, hairpins, held notes, rolls, glissandi, pedals and words over the stave. */
export const phraseMarks = (stave: PhraseStave): readonly SVGElement[] => [
  ...slurs(stave),
  ...hairpins(stave),
  ...fermatas(stave),
  ...rolls(stave),
  ...lines(stave),
  ...deadStrokes(stave),
  ...rings(stave),
  ...pedals(stave),
  ...words(stave),
];
