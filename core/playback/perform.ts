import {
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  less,
  multiply,
  remainder,
  subtract,
  times,
  toNumber,
} from '../foundation/fraction.ts';
import { tactus } from '../foundation/metre.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { Seconds } from '../foundation/units.ts';
import { INSTRUMENTS, type InstrumentId } from '../parts/instruments.ts';
import type { Swing } from '../reading/reading.ts';
import type { Score, ScorePart } from '../score/score.ts';
import type { Performance, SoundingEvent } from './events.ts';

/** A whole sounding note of a score, its tied symbols joined. Times from the start of the score, in semibreves. */
export interface ScoreNote {
  readonly part: string;
  readonly instrument: InstrumentId;
  readonly at: Fraction;
  readonly length: Fraction;
  /** As written, MIDI pitch. */
  readonly written: number;
  /** As it sounds, MIDI pitch. */
  readonly sounding: number;
  readonly ref: string;
}

/** Joins ties: the notes of one part as they sound, measured from the first bar (upbeat included). */
export const notesOf = (part: ScorePart, upbeat: Fraction): readonly ScoreNote[] => {
  const open = new Map<number, ScoreNote>();
  const done: ScoreNote[] = [];
  for (const symbol of part.bars.flatMap(bar => bar.symbols)) {
    for (const { spelled, ref } of symbol.pitches) {
      const written = midiOf(spelled);
      const before = symbol.tiedFrom ? open.get(written) : undefined;
      const note: ScoreNote =
        before === undefined
          ? {
              part: part.id,
              instrument: part.instrument,
              at: add(symbol.at, upbeat),
              length: symbol.length,
              written,
              sounding: written + INSTRUMENTS[part.instrument].soundsAbove,
              ref,
            }
          : { ...before, length: add(before.length, symbol.length) };
      if (symbol.tiedTo) open.set(written, note);
      else {
        open.delete(written);
        done.push(note);
      }
    }
  }
  return [...done, ...open.values()].sort((a, b) => compare(a.at, b.at) || a.written - b.written);
};

/**
 * Where a written place sounds when the written value swings: the first half of each pair takes
 * ratio/(1+ratio) of it. Exact, in semibreves; pairs are counted from the barline.
 */
export const swung = (at: Fraction, swing: Swing | undefined): Fraction => {
  if (swing === undefined || swing.ratio === 1) return at;
  const pair = times(swing.unit, 2);
  const inside = remainder(at, pair);
  const start = subtract(at, inside);
  const thousandths = Math.round(swing.ratio * 1000);
  const long = multiply(pair, fraction(thousandths, 1000 + thousandths));
  const short = subtract(pair, long);
  const warped = less(inside, swing.unit)
    ? multiply(inside, divide(long, swing.unit))
    : add(long, multiply(subtract(inside, swing.unit), divide(short, swing.unit)));
  return add(start, warped);
};

/** Seconds from the start of the score to a place measured from its first bar. */
export const secondsAt = (
  score: Pick<Score, 'metre' | 'tempo' | 'swing' | 'upbeat'>,
  at: Fraction,
): Seconds => {
  const fromBarline = subtract(at, score.upbeat);
  const played = add(swung(fromBarline, score.swing), score.upbeat);
  return (toNumber(divide(played, tactus(score.metre))) * 60) / score.tempo;
};

const VELOCITY = 84;

/** A score as strokes in seconds: what the sound plays, and what the WAV holds. */
export const perform = (score: Score): Performance => {
  const events: SoundingEvent[] = score.parts
    .flatMap(part => notesOf(part, score.upbeat))
    .map(note => {
      const at = secondsAt(score, note.at);
      return {
        at,
        duration: secondsAt(score, add(note.at, note.length)) - at,
        pitch: note.sounding,
        velocity: VELOCITY,
        instrument: note.instrument,
        ref: note.ref,
      };
    })
    .sort((a, b) => a.at - b.at);
  return { events, length: secondsAt(score, scoreLength(score)) };
};

/** Length of a score from its first bar, in semibreves. */
export const scoreLength = (score: Score): Fraction =>
  (score.parts[0]?.bars ?? []).reduce((so, bar) => add(so, bar.length), fraction(0));
