import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import {
  HEAD_LINE,
  letterMark,
  slowerIn,
  slowerMark,
  slowerWidth,
  swingMark,
  swingWidth,
  tempiIn,
  tempoMark,
  tempoWidth,
} from './marks.ts';
import { SANS, text } from './svg.ts';
import { type DrawnSystem, type SystemFrame, xOfPlace } from './system.ts';

/** The side of a rehearsal letter's box, in stave units, where signs are as large as their stave says. */
const LETTER_BOX = 24;

/** How far a letter at the left end of the staves reaches over them: never as far as a bracket. */
const BESIDE = 6;

const letterWidth = (letter: string): number => LETTER_BOX + 11 * (letter.length - 1);

/** Height that a rehearsal letter takes, in stave units. */
export const letterHeight = (signs: number): number => (LETTER_BOX + 4) * signs;

/** Whether a rehearsal letter stands at the first bar of a system. */
export const startsWithLetter = (score: Score, first: number): boolean =>
  score.letters.some(l => l.bar === first);

/** How a line of signs is drawn. */
interface LineOptions {
  readonly tempo: boolean;
  readonly signs: number;
  /** A letter at the first bar stands over the clef instead. */
  readonly letterFirst: boolean;
}

/** How high the line of letters and metronome marks over a system is, in stave units; 0 where it needs none. */
export const headLineHeight = (score: Score, first: number, count: number, options: LineOptions): number => {
  const { tempo, signs, letterFirst } = options;
  const from = letterFirst ? first + 1 : first;
  const letters = score.letters.some(l => l.bar >= from && l.bar < first + count);
  const marks =
    tempo && (tempiIn(score, first, count).length > 0 || slowerIn(score, first, count).length > 0);
  const swing = tempo && first === 0 && score.swing !== undefined;
  return letters || marks ? (HEAD_LINE + (swing ? 8 : 0)) * signs : 0;
};

/** A sign drawn larger about its own beginning. */
const grown = (sign: SVGElement, x: number, y: number, by: number): SVGElement => {
  if (by !== 1) {
    const place = `${String(x)} ${String(y)}`;
    sign.setAttribute(
      'transform',
      `translate(${place}) scale(${String(by)}) translate(${String(-x)} ${String(-y)})`,
    );
  }
  return sign;
};

/** Letters and metronome marks stand on one line over the system; a mark makes way for a letter. */
export const headMarks = (
  score: Score,
  frame: SystemFrame,
  placed: DrawnSystem,
  edges: readonly number[],
  pageRight: number,
  options: {
    readonly scale: number;
    readonly weight: number;
    readonly signs: number;
    readonly tempo: boolean;
    readonly nameStyle: NameStyle;
  },
): readonly SVGElement[] => {
  const { signs } = options;
  const out: SVGElement[] = [];
  const taken: number[] = [];
  const y = frame.headLine;
  for (const { bar, letter } of score.letters) {
    const b = bar - frame.plan.first;
    if (b < 0 || b >= frame.plan.bars.length) continue;
    const width = letterWidth(letter) * signs;
    if (b === 0 && frame.startLetter !== undefined) {
      const x = frame.left + BESIDE - width;
      out.push(grown(letterMark(letter, x, frame.startLetter, options.weight), x, frame.startLetter, signs));
      continue;
    }
    if (y === undefined) continue;
    const x = b === 0 ? frame.left : (edges[b] ?? 0) - 2;
    const middle = y - 6 * signs;
    out.push(grown(letterMark(letter, x, middle, options.weight), x, middle, signs));
    taken[b] = x + width;
  }
  if (!options.tempo || y === undefined) return out;
  // Where the last mark ends: the next one makes way.
  let marked = 0;
  const clearOf = (place: number): number =>
    Math.max(
      place,
      marked,
      ...taken
        .filter(right => right > place - 40 * signs && right - 36 * signs < place)
        .map(right => right + 8),
    );
  const said = slowerIn(score, frame.plan.first, frame.plan.bars.length);
  const writeSaid = (before: number): void => {
    for (let next = said[0]; next !== undefined && next.at < before; next = said[0]) {
      said.shift();
      const x = clearOf(xOfPlace(placed, next.at) / options.scale - 6);
      marked = x + (slowerWidth(next.words) + 10) * signs;
      out.push(grown(slowerMark(next.words, x, y), x, y, signs));
    }
  };
  for (const { at, speed } of tempiIn(score, frame.plan.first, frame.plan.bars.length)) {
    writeSaid(at ?? -Infinity);
    const x = clearOf(at === undefined ? (edges[0] ?? 0) + 2 : xOfPlace(placed, at) / options.scale - 6);
    marked = x + (tempoWidth(speed) + 18) * signs;
    out.push(grown(tempoMark(speed, x, y), x, y, signs));
    if (at === undefined && score.swing !== undefined) {
      const room = (pageRight - marked) / signs;
      out.push(grown(swingMark(score.swing, marked, y, room, options.nameStyle), marked, y, signs));
      marked += (swingWidth(score.swing, room, options.nameStyle) + 10) * signs;
    }
  }
  writeSaid(Infinity);
  return out;
};

/** The number of the first bar, over the clef, from the second system on; left of a letter that stands there. */
export const barNumber = (score: Score, frame: SystemFrame, signs: number): readonly SVGElement[] => {
  const number = score.parts[0]?.bars[frame.plan.first]?.number;
  const top = frame.tops[0];
  if (frame.first || number === undefined || top === undefined) return [];
  const letter = score.letters.find(l => l.bar === frame.plan.first)?.letter;
  const beside = letter === undefined || frame.startLetter === undefined ? 0 : letterWidth(letter) * signs;
  return [
    text(beside === 0 ? frame.left : frame.left + BESIDE - beside - 4, top - 19, String(number), {
      class: 'bar-number',
      'font-family': SANS,
      'font-size': 13 * signs,
      ...(beside === 0 ? {} : { 'text-anchor': 'end' }),
    }),
  ];
};
