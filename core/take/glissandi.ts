import type { MidiPitch, Seconds } from '../foundation/units.ts';
import type { FastRun } from './fastRuns.ts';
import type { Take } from './take.ts';

/**
 * What may be a glissando: the mallet drawn over neighbouring bars, some 15 to 60 of them a second, in one direction
 * (common practice, no source). Hands strike no more than some 12 bars a second one by one.
 */
export const DRAWN = {
  /** Seconds from bar to bar, on average; the least keeps chords out whose notes are a little apart. */
  mean: { least: 0.012, most: 0.067 },
  /** Fewest bars, and fewest where they follow each other faster than `quick`. Our choice. */
  fewest: 6,
  fewestQuick: 5,
  quick: 0.045,
  /** Seconds between two bars of one line, at most. Our choice. */
  longest: 0.1 as Seconds,
  /** A gap so many times the middle one of its line, or so small a share of it, is none of an even line. Our choice. */
  even: { most: 1.9, least: 0.3 },
  /** Semitones between neighbouring bars: of both rows, of one, or of a set of five to the octave. */
  steps: 3,
  /** A last stroke so many times as hard as the middle one of the line is a note of its own, to which the line leads. Our choice. */
  louder: 1.25,
};

/** Strokes drawn over neighbouring bars, as indices into the take's strikes: one note and a line. */
export interface DrawnLine {
  /** In order of time. */
  readonly strokes: FastRun;
  /** The note to which the line leads, where that is one of its own; not among the strokes. */
  readonly target?: number;
}

/**
 * Lines drawn over neighbouring bars, in order of time; whether a quick one keeps time is for whoever knows the beat.
 * Where one turns, the bar where it does is the target of the one and the first of the other.
 * @param keep strikes that are notes of their own: of a line only the first may be one, and its target
 * @param rolled strikes of rolls, whose first stroke may be a target
 * @example
 * const strikes = [60, 62, 64, 65, 67, 69].map((pitch, i) => ({ at: i / 25, pitch, velocity: 80 }));
 * drawnLines({ strikes }) // => [{ strokes: [0, 1, 2, 3, 4, 5] }]
 */
export const drawnLines = (
  { strikes }: Pick<Take, 'strikes'>,
  keep: ReadonlySet<number> = new Set(),
  rolled: ReadonlySet<number> = new Set(),
): readonly DrawnLine[] => {
  const at = (i: number | undefined): Seconds => strikes[i ?? -1]?.at ?? NaN;
  const pitch = (i: number | undefined): MidiPitch => strikes[i ?? -1]?.pitch ?? NaN;
  const order = strikes
    .map((_, i) => i)
    .filter(i => Number.isFinite(at(i)))
    .sort((a, b) => at(a) - at(b) || a - b);
  const found: DrawnLine[] = [];
  let from = 0;
  while (from + 1 < order.length) {
    const way = Math.sign(pitch(order[from + 1]) - pitch(order[from]));
    let to = from;
    while (to + 1 < order.length) {
      const [one, next] = [order[to], order[to + 1]];
      const step = (pitch(next) - pitch(one)) * way;
      if (!(at(next) - at(one) <= DRAWN.longest && step >= 1 && step <= DRAWN.steps)) break;
      if (to > from && rolled.has(one ?? -1)) break;
      to++;
    }
    const line = evenPart(order.slice(from, to + 1), at);
    if (isDrawn(line, at) && !rolled.has(line[0] ?? -1) && !line.slice(1, -1).some(i => keep.has(i)))
      found.push(withTarget(line, strikes, keep, rolled));
    from = Math.max(from + 1, to);
  }
  return found.map((line, k) => {
    const turn = line.strokes.at(-1);
    const next = found[k + 1];
    return turn !== undefined && next?.strokes[0] === turn
      ? { strokes: line.strokes.slice(0, -1), target: turn }
      : line;
  });
};

const middleOf = (values: readonly number[]): number =>
  [...values].sort((x, y) => x - y)[values.length >> 1] ?? 0;

/** The longest part of a line that goes evenly. */
const evenPart = (line: readonly number[], at: (i: number | undefined) => Seconds): readonly number[] => {
  const gaps = line.slice(1).map((s, k) => at(s) - at(line[k]));
  const middle = middleOf(gaps);
  const pieces: number[][] = [];
  line.forEach((s, k) => {
    const last = pieces.at(-1);
    const gap = gaps[k - 1] ?? 0;
    if (last === undefined || gap > DRAWN.even.most * middle || gap < DRAWN.even.least * middle)
      pieces.push([s]);
    else last.push(s);
  });
  return pieces.reduce((so, piece) => (piece.length > so.length ? piece : so), []);
};

const isDrawn = (line: readonly number[], at: (i: number | undefined) => Seconds): boolean => {
  const mean = (at(line.at(-1)) - at(line[0])) / (line.length - 1);
  const fewest = mean <= DRAWN.quick ? DRAWN.fewestQuick : DRAWN.fewest;
  return line.length >= fewest && mean >= DRAWN.mean.least && mean <= DRAWN.mean.most;
};

/** The last stroke is a note of its own where it was struck louder, was put somewhere by hand, or goes on as a roll. */
const withTarget = (
  line: readonly number[],
  strikes: Take['strikes'],
  keep: ReadonlySet<number>,
  rolled: ReadonlySet<number>,
): DrawnLine => {
  const last = line.at(-1) ?? -1;
  const hard = middleOf(line.slice(1, -1).map(i => strikes[i]?.velocity ?? 0));
  const isLouder = (strikes[last]?.velocity ?? 0) >= DRAWN.louder * hard;
  return isLouder || keep.has(last) || rolled.has(last) ? leadingTo(line) : { strokes: line };
};

/**
 * A line whose last stroke is a note of its own.
 * @example leadingTo([4, 5, 6]) // => { strokes: [4, 5], target: 6 }
 */
export const leadingTo = (line: FastRun): DrawnLine => {
  const target = line.at(-1);
  return target === undefined || line.length < 2 ? { strokes: line } : { strokes: line.slice(0, -1), target };
};

/** All strokes of a line, with the note it leads to. */
export const wholeLine = ({ strokes, target }: DrawnLine): FastRun =>
  target === undefined ? strokes : [...strokes, target];
