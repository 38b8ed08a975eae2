import type { NoteName } from '../../foundation/enharmonic.ts';
import type { Fraction } from '../../foundation/fraction.ts';
import type { Metre } from '../../foundation/metre.ts';
import type { Bpm, MidiPitch, Milliseconds } from '../../foundation/units.ts';

/** A stroke that is a grace note, or one of a glissando. */
export interface GraceStroke {
  readonly strike: number;
  readonly pitch: MidiPitch;
}

/**
 * Grace notes as a note has them: the last by itself, those before it as a ruff; nothing for none.
 * @param all in order of time
 * @example gracesOf([1, 2].map(strike => ({ strike, pitch: 60 }))).ruff // => [{ strike: 1, pitch: 60 }]
 */
export const gracesOf = (all: readonly GraceStroke[]): Pick<ReadNote, 'grace' | 'ruff'> => {
  const grace = all.at(-1);
  if (grace === undefined) return {};
  return all.length === 1 ? { grace } : { grace, ruff: all.slice(0, -1) };
};

/** Strokes drawn over neighbouring bars, each written as one note with a line. */
export interface ReadGlissando {
  /** Its strokes in order of time, that of the note itself first. */
  readonly strokes: readonly GraceStroke[];
  /** Where the line ends: its last stroke, or the note that it leads to. */
  readonly to: MidiPitch;
}

/** One note of a reading. Notes struck together share an onset. */
export interface ReadNote {
  /** Place from the first barline, in semibreves; below zero in an upbeat. */
  readonly onset: Fraction;
  /** Written length in semibreves; above zero. */
  readonly duration: Fraction;
  readonly pitch: MidiPitch;
  /** Index into the take's strikes; -1 for a note the teacher added. */
  readonly strike: number;
  /** 0 (sure) to 1: the chance that this note belongs somewhere else. */
  readonly doubt: number;
  /** Where else it may belong, most likely first, when there is doubt. */
  readonly elsewhere?: readonly Fraction[];
  /** The soft stroke just before it, of a flam or a leading note: a grace note, which has no length of its own. */
  readonly grace?: GraceStroke;
  /** With it: the soft strokes before that one, of a drag or a ruff, first one first. */
  readonly ruff?: readonly GraceStroke[];
  /** Rolled: its strokes, itself among them, as indices into the take's strikes. Each is written as this one note. */
  readonly roll?: readonly number[];
  /** A glissando: the mallet is drawn from this bar over its neighbours. */
  readonly gliss?: ReadGlissando;
  /** The name it was given by hand; the reader gives none. */
  readonly name?: NoteName;
}

/**
 * The strikes that are written as this one note with a sign, itself among them: of a roll or a glissando; undefined for none.
 * @example signStrokes({ onset: ZERO, duration: fraction(1), pitch: 60, strike: 4, doubt: 0, roll: [4, 5, 6] }) // => [4, 5, 6]
 */
export const signStrokes = (note: ReadNote): readonly number[] | undefined =>
  note.roll ?? note.gliss?.strokes.map(stroke => stroke.strike);

/** Which divisions of a beat the teacher lets the reader use. */
export type Grid =
  | 'automatic'
  | 'beat' // whole beats only
  | 'half' // quavers in 4/4
  | 'quarter' // semiquavers in 4/4
  | 'eighth' // demisemiquavers in 4/4
  | 'triplet' // quavers and triplets
  | 'sextuplet'; // semiquavers, triplets and sextuplets

/** How uneven off-beats may be and still be written as even quavers under a swing mark. */
export type SwingTolerance = 'none' | 'low' | 'medium' | 'high';

export interface Swing {
  /** Long to short, 1 to 3.5. */
  readonly ratio: number;
  /** The value that swings, in semibreves: 1/8 or 1/16. */
  readonly unit: Fraction;
}

/** One way of writing a take. */
export interface Reading {
  readonly metre: Metre;
  /** Tactus beats a minute (dotted crotchets in 6/8). */
  readonly tempo: Bpm;
  /** Length before the first barline that sounds, in semibreves; 0 when there is none. */
  readonly upbeat: Fraction;
  readonly swing?: Swing;
  readonly grid: Grid;
  /** In order of onset, then pitch. */
  readonly notes: readonly ReadNote[];
  /** Strikes not written (bounces), as indices into the take. */
  readonly dropped: readonly number[];
  /** Root mean square distance between strikes and where they are written. */
  readonly misfit: Milliseconds;
  /** 0 to 1; how often a reading said to be this sure is right. */
  readonly confidence: number;
  /** One line a teacher understands: "swung quavers", "two triplets in bar 2", "in 6/8". */
  readonly reason: string;
  /** When each tactus beat falls on the take's clock; beat 0 is the first barline at index `firstBeat`. */
  readonly beats: readonly number[];
  readonly firstBeat: number;
  /** Bars after which the idea repeats, when the pupil played it more than once. */
  readonly period?: number;
}

/**
 * A page as the teacher sees it while she puts notes of it elsewhere: what she does not touch stays, so
 * its beats are the beats of the next reading, and each note has a price for leaving its position.
 */
export interface SeenPage {
  readonly metre: Metre;
  /** As in the reading it was: when each tactus beat falls, and which of them is the first barline. */
  readonly beats: readonly number[];
  readonly firstBeat: number;
  readonly swing?: Swing;
  readonly period?: number;
  /** Strike index to its position from the first barline, in semibreves. */
  readonly positions: readonly { readonly strike: number; readonly onset: Fraction }[];
}

/** What the teacher knows: hard constraints on every reading. */
export interface Hints {
  readonly metre?: Metre;
  /** Tactus beats a minute. */
  readonly tempo?: Bpm;
  readonly grid?: Grid;
  readonly swingTolerance?: SwingTolerance;
  /** Strike index to its place from the first barline, in semibreves. A pinned note never moves. */
  readonly pins?: readonly { readonly strike: number; readonly onset: Fraction }[];
  /** The page on which the pins were chosen, as it was before the first of them. */
  readonly page?: SeenPage;
  /** Strike index that falls on the first barline. */
  readonly firstBeatStrike?: number;
  /** Times of the tapped beats on the take's clock; they stand in for a click. */
  readonly taps?: readonly number[];
  /** Let notes ring to the next one instead of writing rests. */
  readonly letRing?: boolean;
  /** Ignore the take's click. */
  readonly free?: boolean;
}
