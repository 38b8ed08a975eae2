import { swingName } from '../../core/exchange/textScore.ts';
import { type Fraction, toNumber } from '../../core/foundation/fraction.ts';
import { tactus } from '../../core/foundation/metre.ts';
import { type NameStyle, type NoteValue, valueOf } from '../../core/foundation/noteValue.ts';
import { metreAt, metricRelation } from '../../core/score/metreAt.ts';
import { isTempoAgain } from '../../core/score/slowing.ts';
import type { Score, ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import type { Swing } from '../../core/reading/model/reading.ts';
import { ARTICULATION_GLYPH, DYNAMIC_GLYPH, figures, METRONOME_DOT, METRONOME_GLYPH } from './glyphs.ts';
import { bar, NOTATION, SANS, svg, text } from './svg.ts';
import { articulationY } from './stems.ts';
import { startsAtHead, TEXT_SIZE, underText } from './under.ts';
import type { StaveRoom } from './vertical.ts';

/** Height of the line of letters and metronome marks over a system, in stave units. */
export const HEAD_LINE = 30;

/** Something that stands over the first stave of a system. */
export interface HeadMark {
  readonly x: number;
  readonly element: SVGElement;
}

const span = (content: string, attributes: Readonly<Record<string, string | number>>): SVGElement =>
  svg('tspan', attributes, content);

/** How fast the music goes from a place on: beats a minute, or a note value that stays as long as it was. */
export type Speed = { readonly beat: Fraction; readonly tempo: number } | { readonly same: NoteValue };

const noteSign = (value: NoteValue): SVGElement =>
  span((METRONOME_GLYPH[value.base] ?? '') + METRONOME_DOT.repeat(value.dots), {
    'font-family': NOTATION,
    'font-size': 24,
    'font-weight': 'normal',
  });

/** "crotchet = 96", or "quaver = quaver" where another metre begins. Baseline `y`. */
export const tempoMark = (speed: Speed, x: number, y: number): SVGElement => {
  const mark = text(x, y, '', {
    class: 'tempo-mark',
    'font-family': SANS,
    'font-size': 16,
    'font-weight': 'bold',
  });
  if ('same' in speed) {
    mark.append(noteSign(speed.same), ' = ', noteSign(speed.same));
    return mark;
  }
  mark.append(
    noteSign(valueOf(speed.beat) ?? { base: 4, dots: 0 }),
    ' = ',
    span(figures(speed.tempo), { 'font-family': NOTATION, 'font-size': 40, 'font-weight': 'normal' }),
  );
  return mark;
};

/** About how wide a metronome mark is, in stave units: note, sign and figures. */
export const tempoWidth = (speed: Speed): number =>
  'same' in speed ? 58 : 38 + 10 * String(Math.round(speed.tempo)).length;

/** Half the width of a small note head, and where its stem ends above the line. */
const SMALL = { head: 7, stem: 18 } as const;

/** Small notes of a swing sign, their stems up: one of the notation font's heads with a stem of ours. */
const smallNote = (x: number, y: number): SVGElement[] => [
  text(x, y, '\ue0a4', { 'font-family': NOTATION, 'font-size': 24 }),
  bar(x + SMALL.head - 1, y - SMALL.stem, 1, SMALL.stem - 1),
];

/** How wide the sign alone is, in stave units. */
const SWING_SIGN = 84;

/** The words beside the sign: all of them, or the ratio that the sign does not say, or none, as there is room. */
const swingSaid = (swing: Swing, room: number, style: NameStyle): string => {
  const ratio = swing.ratio.toFixed(2).replace(/\.?0+$/, '');
  const told = ratio === '2' ? '' : `${ratio} : 1`;
  const whole = [swingName(swing, style), ...(told === '' ? [] : [told])].join(', ');
  return [whole, told].find(words => SWING_SIGN + 8.4 * words.length < room) ?? '';
};

/** How far a swing sign with its words reaches, in stave units. */
export const swingWidth = (swing: Swing, room: number, style: NameStyle): number =>
  SWING_SIGN + 8.4 * swingSaid(swing, room, style).length;

/**
 * The trade's sign of swing: two beamed quavers (or semiquavers) are played as a long and a short of a triplet,
 * with the word beside it, and the ratio where it is another than two to one. Left edge `x`, baseline `y`; words only as
 * far as there is `room`.
 */
export const swingMark = (swing: Swing, x: number, y: number, room: number, style: NameStyle): SVGElement => {
  const beams = swing.unit.d === 16 ? 2 : 1;
  const mark = svg('g', { class: 'swing-mark' });
  const beamed = (left: number, width: number, rows: number): SVGElement[] =>
    Array.from({ length: rows }, (_, row) =>
      bar(left + SMALL.head - 1, y - SMALL.stem + row * 4, width, 2.6),
    );
  mark.append(...smallNote(x, y), ...smallNote(x + 13, y), ...beamed(x, 14, beams));
  mark.append(text(x + 26, y + 2, '=', { 'font-family': SANS, 'font-size': 16, 'font-weight': 'bold' }));
  const right = x + 44;
  mark.append(...smallNote(right, y), ...smallNote(right + 17, y));
  // The long one has a beam less; the short one's flag is a stub of a beam.
  if (beams === 2) mark.append(bar(right + SMALL.head - 1, y - SMALL.stem, 18, 2.6));
  const stub = beams === 2 ? y - SMALL.stem + 4 : y - SMALL.stem;
  if (beams === 2) mark.append(bar(right + 17 + SMALL.head - 6, stub, 5, 2.6));
  else
    mark.append(
      text(right + 17 + SMALL.head - 1, y - SMALL.stem, '\ue240', {
        'font-family': NOTATION,
        'font-size': 20,
      }),
    );
  const over = y - SMALL.stem - 5;
  mark.append(
    bar(right, over, 10, 0.9),
    bar(right + 18, over, 10, 0.9),
    bar(right, over, 0.9, 3),
    bar(right + 27.1, over, 0.9, 3),
    text(right + 14, over + 4, '\ue883', {
      'font-family': NOTATION,
      'font-size': 16,
      'text-anchor': 'middle',
    }),
  );
  const said = swingSaid(swing, room, style);
  if (said !== '')
    mark.append(text(right + 40, y, said, { 'font-family': SANS, 'font-size': 16, 'font-style': 'italic' }));
  return mark;
};

/** A rehearsal letter in its box, its left edge at `x`, its middle on `y`. */
export const letterMark = (letter: string, x: number, y: number, weight: number): SVGElement => {
  const width = 13 + letter.length * 11;
  const mark = svg('g', { class: 'rehearsal' });
  mark.append(
    svg('rect', {
      x,
      y: y - 12,
      width,
      height: 24,
      fill: 'none',
      stroke: 'black',
      'stroke-width': 1.6 * weight,
    }),
    text(x + width / 2, y + 6.5, letter, {
      'font-family': SANS,
      'font-size': 18,
      'font-weight': 'bold',
      'text-anchor': 'middle',
    }),
  );
  return mark;
};

/** Where a head stands, and which way its stem points. */
interface Head {
  readonly left: number;
  readonly middle: number;
  readonly up: boolean;
}

/**
 * Accent, staccato or tenuto at the head, away from the stem: an accent outside the stave, the
 * others in the next free space (common practice, no source).
 */
const articulationMark = (
  symbol: ScoreSymbol,
  clef: ScorePart['clef'],
  head: Head,
  top: number,
): SVGElement => {
  const kind = symbol.articulation ?? 'accent';
  const y = articulationY(symbol, clef, head.up);
  const glyph = ARTICULATION_GLYPH[kind][head.up ? 1 : 0];
  return text(head.middle, top + y, glyph, {
    class: 'articulation',
    'font-family': NOTATION,
    'font-size': 40,
    'text-anchor': 'middle',
  });
};

/** Dynamics and the rows of text under one stave. `xOf` gives the left edge of a symbol's head. */
export const underMarks = (
  score: Score,
  p: number,
  first: number,
  count: number,
  room: StaveRoom,
  bottom: number,
  headOf: (bar: number, symbol: number) => Head,
): readonly SVGElement[] => {
  const out: SVGElement[] = [];
  const part = score.parts[p];
  part?.bars.slice(first, first + count).forEach((bar, b) => {
    bar.symbols.forEach((symbol, i) => {
      const head = headOf(b, i);
      const { left, middle } = head;
      if (symbol.articulation !== undefined) {
        out.push(articulationMark(symbol, part.clef, head, bottom - 40));
      }
      if (symbol.dynamic !== undefined && room.dynamics !== undefined) {
        out.push(
          text(middle, bottom + room.dynamics, DYNAMIC_GLYPH[symbol.dynamic] ?? '', {
            class: 'dynamic',
            'font-family': NOTATION,
            'font-size': 36,
            'text-anchor': 'middle',
          }),
        );
      }
      for (const { row, baseline } of room.rows) {
        const content = underText(row, metreAt(score, bar.index), bar, symbol);
        if (content === '') continue;
        const long = startsAtHead(content);
        out.push(
          text(long ? left : middle, bottom + baseline, content, {
            class: `under-${row}`,
            'font-family': SANS,
            'font-size': TEXT_SIZE,
            ...(long ? {} : { 'text-anchor': 'middle' }),
          }),
        );
      }
    });
  });
  return out;
};

/** Whether a place, in semibreves, lies in a stretch of bars; undefined where there are no such bars. */
const withinBars = (score: Score, first: number, count: number): ((at: number) => boolean) | undefined => {
  const bars = score.parts[0]?.bars ?? [];
  const from = bars[first];
  const last = bars[first + count - 1];
  if (from === undefined || last === undefined) return undefined;
  const start = toNumber(from.start);
  const end = toNumber(last.start) + toNumber(last.length);
  return at => at >= start && at < end;
};

/** Metronome marks and relations of beats that begin in a stretch of bars: where, and how fast; the first one's place is undefined. */
export const tempiIn = (
  score: Score,
  first: number,
  count: number,
): readonly { readonly at: number | undefined; readonly speed: Speed }[] => {
  const isWithin = withinBars(score, first, count);
  if (isWithin === undefined) return [];
  const beat = tactus(score.metre);
  const later = (score.tempi ?? [])
    .map(t => ({ at: toNumber(t.at), speed: { beat: t.beat ?? beat, tempo: t.tempo } }))
    .filter(t => isWithin(t.at));
  const relations = (score.metres ?? []).flatMap(({ bar }) => {
    const same = metricRelation(score, bar);
    const start = score.parts[0]?.bars.at(bar)?.start;
    return same === undefined || start === undefined ? [] : [{ at: toNumber(start), speed: { same } }];
  });
  const all = [...later, ...relations.filter(t => isWithin(t.at))].sort((a, b) => a.at - b.at);
  return first === 0 ? [{ at: undefined, speed: { beat, tempo: score.tempo } }, ...all] : all;
};

/** Words of a ritardando that begin in a stretch of bars, in order of place. */
export const slowerIn = (
  score: Score,
  first: number,
  count: number,
): { readonly at: number; readonly words: string }[] => {
  const isWithin = withinBars(score, first, count);
  if (isWithin === undefined) return [];
  return (score.slowings ?? [])
    .flatMap(s => [
      { at: toNumber(s.from), words: 'rit.' },
      ...(isTempoAgain(score, s) ? [{ at: toNumber(s.to), words: 'a tempo' }] : []),
    ])
    .filter(({ at }) => isWithin(at))
    .sort((a, b) => a.at - b.at);
};

/** About how wide such words are, in stave units. */
export const slowerWidth = (words: string): number => words.length * 8;

/** "rit." or "a tempo", on the line of metronome marks. */
export const slowerMark = (words: string, x: number, y: number): SVGElement =>
  text(x, y, words, {
    class: 'slower',
    'font-family': SANS,
    'font-size': 16,
    'font-style': 'italic',
    'font-weight': 'bold',
  });
