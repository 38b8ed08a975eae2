import { subtract, toNumber } from '../foundation/fraction.ts';
import type { BarIndex, MidiPitch, Seconds, Semibreves } from '../foundation/units.ts';
import { notesOf, type ScoreNote, soundedNote } from '../playback/perform.ts';
import type { Score } from '../score/score.ts';
import { type RehearsedBars, sectionInTime } from './section.ts';

/** A stroke a part is expected to play. */
export interface ExpectedStroke {
  readonly part: string;
  /** What on the page it belongs to. */
  readonly ref: string;
  readonly bar: BarIndex;
  /** Where its note stands, from the first full barline. */
  readonly place: Semibreves;
  /** From the start of the section at the chosen speed; through every pass of a loop. */
  readonly seconds: Seconds;
  /** How long its note lasts at that speed: as long it may be rolled. */
  readonly lasts: Seconds;
  /** As written, which is what bars and keys are called. */
  readonly pitch: MidiPitch;
  /** The bars after its own that a glissando is drawn over from here, as written: what is struck on the way belongs to it. */
  readonly line?: readonly MidiPitch[];
  /** A grace note: wanted, but nobody is told that it was early or late, or left out. */
  readonly isGrace: boolean;
  /** Which time through, from 0. */
  readonly pass: number;
}

/** What is to be played of a part. */
export interface Rehearsed {
  readonly part: string;
  readonly bars: RehearsedBars;
  /** 1 as written; 0.4 to 1.2. */
  readonly speed: number;
}

const barOf = (starts: readonly number[], place: number): BarIndex => {
  let bar = 0;
  starts.forEach((start, i) => {
    if (start <= place + 1e-9) bar = i;
  });
  return bar;
};

const withoutSigns = ({ roll: _, gliss: __, ...note }: ScoreNote): ScoreNote => note;

const expectedOf = (
  score: Score,
  note: ScoreNote,
  from: Seconds,
  speed: number,
  bar: BarIndex,
): ExpectedStroke[] =>
  // A roll or a line is struck as fast as one can: its first stroke is expected, the others belong to it.
  soundedNote(score, withoutSigns(note)).map(stroke => ({
    part: note.part,
    ref: note.ref,
    bar,
    place: toNumber(subtract(note.onset, score.upbeat)),
    seconds: (stroke.seconds - from) / speed,
    lasts: stroke.duration / speed,
    pitch: stroke.pitch - note.sounding + note.written,
    isGrace: stroke.ref === undefined,
    ...(note.gliss === undefined || stroke.ref === undefined ? {} : { line: note.gliss }),
    pass: 0,
  }));

/**
 * The strokes written for a part in a run of bars, in seconds at the chosen speed, by the very clock the sound
 * goes by: swing, tempo marks, ritardandi, held notes and grace notes included. In order of time.
 * @param score without repeat bars, or played out
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(1, 2), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const [stroke] = expectedStrokes(score, { part: 'p1', bars: { first: 0, last: 0 }, speed: 0.5 });
 * [stroke.seconds, stroke.pitch, stroke.place] // => [4, 60, 0.5]
 */
export const expectedStrokes = (score: Score, what: Rehearsed): readonly ExpectedStroke[] => {
  const part = score.parts.find(one => one.id === what.part);
  if (part === undefined) return [];
  const { from, to } = sectionInTime(score, what.bars);
  const starts = part.bars.map(bar => toNumber(bar.start));
  return notesOf(part, score.upbeat)
    .flatMap(note =>
      expectedOf(score, note, from, what.speed, barOf(starts, toNumber(subtract(note.onset, score.upbeat)))),
    )
    .filter(({ seconds }) => seconds >= -1e-6 && seconds < (to - from) / what.speed - 1e-6)
    .sort((a, b) => a.seconds - b.seconds || a.pitch - b.pitch);
};

/**
 * The same strokes through several passes of a loop, each pass after the one before.
 * @param passes how often, 1 or more
 * @param pass how long one lasts, in seconds
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const once = expectedStrokes(score, { part: 'p1', bars: { first: 0, last: 0 }, speed: 1 });
 * overAndOver(once, 3, 4).map(s => [s.pass, s.seconds]) // => [[0, 0], [1, 4], [2, 8]]
 */
export const overAndOver = (
  once: readonly ExpectedStroke[],
  passes: number,
  pass: Seconds,
): readonly ExpectedStroke[] =>
  Array.from({ length: passes }, (_, k) =>
    once.map(stroke => ({ ...stroke, seconds: stroke.seconds + k * pass, pass: k })),
  ).flat();
