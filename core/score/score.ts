import type { Fraction } from '../foundation/fraction.ts';
import type { Key } from '../foundation/key.ts';
import type { Metre } from '../foundation/metre.ts';
import type { NoteValue } from '../foundation/noteValue.ts';
import type { Spelled } from '../foundation/pitch.ts';
import type { BarIndex, BarNumber, Bpm } from '../foundation/units.ts';
import type { Articulation, Dynamic, Hairpin } from '../plan/dynamics.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { MalletId } from '../instruments/mallets.ts';
import type { PlacedGlissando } from '../plan/placed.ts';
import type { Swing } from '../reading/model/reading.ts';

/**
 * The one engraving model. The page, the sound, MusicXML, MIDI and the text score all read this
 * and nothing else, so that they cannot disagree.
 */
export interface Score {
  readonly title: string;
  /** The pupil's code name; never a name. */
  readonly codeName: string;
  /** At the beginning. */
  readonly metre: Metre;
  /** Later metres, in order of bars; each other than the one before. */
  readonly metres?: readonly { readonly bar: BarIndex; readonly metre: Metre }[];
  /** At the beginning. */
  readonly key: Key;
  /** Later keys, in order of bars; each other than the one before. */
  readonly keys?: readonly { readonly bar: BarIndex; readonly key: Key }[];
  /** Tactus beats a minute, of the first metre. */
  readonly tempo: Bpm;
  /** Later metronome marks, in order of place. Another metre alone leaves every note value as long as it was. */
  readonly tempi?: readonly TempoChange[];
  /** Stretches in which the tempo slows down, in order; after them it is as before. */
  readonly slowings?: readonly Stretch[];
  /** Stretches in which a note is held (fermata) and every part waits, in order, apart. */
  readonly holds?: readonly Stretch[];
  readonly swing?: Swing;
  /** Length before the first full bar, in semibreves; 0 for none. */
  readonly upbeat: Fraction;
  readonly parts: readonly ScorePart[];
  /** How many bars each part has, the upbeat's included. */
  readonly barCount: number;
  readonly brackets: readonly Bracket[];
  /** Rehearsal letters by bar index. */
  readonly letters: readonly { readonly bar: BarIndex; readonly letter: string }[];
  /** Bars written once and played several times, between repeat barlines; in order, apart. */
  readonly repeats?: readonly RepeatedBars[];
  /** Still being written: its last bar has no barline yet, and may lack its end. */
  readonly unfinished?: true;
}

/** A new metronome mark at a place. */
export interface TempoChange {
  /** From the first full barline, in semibreves; above zero. */
  readonly at: Fraction;
  /** Beats a minute. */
  readonly tempo: Bpm;
  /** The beat they are told in, in semibreves; absent for the tactus of the score's first metre. */
  readonly beat?: Fraction;
}

/** From one place to another, from the first full barline, in semibreves. */
export interface Stretch {
  readonly from: Fraction;
  readonly to: Fraction;
}

/** Bars between repeat barlines. */
export interface RepeatedBars {
  /** Index of the first bar. */
  readonly bar: BarIndex;
  /** How many bars, 1 or more. */
  readonly bars: number;
  /** How often they are played altogether, 2 or more. */
  readonly times: number;
  /**
   * First- and last-time bars: so many of `bars`, at their end, are left out the last time, and so many
   * that follow the repeat barline are played then instead. 1 or more each.
   */
  readonly endings?: { readonly first: number; readonly last: number };
}

export interface ScorePart {
  readonly id: string;
  readonly name: string;
  readonly short: string;
  readonly instrument: InstrumentId;
  readonly clef: 'treble' | 'bass';
  /** A rhythm without pitches, written on one line with a clef of no pitch; absent for five lines. */
  readonly lines?: 1;
  /** Loudness against the other parts, in dB; absent for 0. */
  readonly balance?: number;
  /** What it is struck with, where it is not the usual one; said over its first note. */
  readonly mallet?: MalletId;
  readonly bars: readonly ScoreBar[];
}

export interface ScoreBar {
  /** 0 for the first of the score. */
  readonly index: BarIndex;
  /** As printed; an upbeat bar is 0. */
  readonly number: BarNumber;
  /** From the first full barline, in semibreves. */
  readonly start: Fraction;
  readonly length: Fraction;
  readonly symbols: readonly ScoreSymbol[];
  /** So many bars of silence written as one, on a player's own part; 2 or more. Such a bar has no symbols. */
  readonly restBars?: number;
  readonly tuplets: readonly ScoreTuplet[];
  /** Beamed groups, as indices into `symbols`. */
  readonly beams: readonly (readonly number[])[];
}

/** A note, a chord of two mallets, or a rest (no pitches), as one drawn symbol. */
export interface ScoreSymbol {
  /** From the first full barline, in semibreves. */
  readonly onset: Fraction;
  /** Sounding length, in semibreves; inside a tuplet shorter than the value's own. */
  readonly duration: Fraction;
  readonly value: NoteValue;
  readonly pitches: readonly WrittenPitch[];
  /** Tied from the symbol before / to the symbol after. */
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
  /** Index into the bar's tuplets. */
  readonly tuplet?: number;
  /** A rest that stands for the whole bar. */
  readonly wholeBar?: boolean;
  /** Grace notes before it, one stroke, lowest first. */
  readonly grace?: readonly GracePitch[];
  /** With it: grace notes before that stroke, one after the other (a drag or a ruff). */
  readonly ruff?: readonly GracePitch[];
  readonly articulation?: Articulation;
  /** A mark that begins here and holds until the next. */
  readonly dynamic?: Dynamic;
  /** Grows louder or softer from here to the end of the symbol with `hairpinEnds`. */
  readonly hairpin?: Hairpin;
  readonly hairpinEnds?: true;
  readonly slur?: 'start' | 'stop';
  /** A vibraphone's pedal goes down as it begins, or up as it ends. */
  readonly pedal?: true;
  readonly pedalEnds?: true;
  /** Held, all parts waiting; the sign stands over it. */
  readonly fermata?: true;
  /** Rolled: strokes through the stem. */
  readonly roll?: true;
  /** Left to ring on (laissez vibrer). */
  readonly ring?: true;
  /** A dead stroke: the mallet stays on the bar. */
  readonly dead?: true;
  /** Words over the stave that begin here. */
  readonly words?: string;
}

/** A small note before the beat, or at the end of a glissando. */
export interface GracePitch extends Spelled {
  /** The sign to draw before the head, if any. */
  readonly accidental?: number;
}

export interface WrittenPitch {
  readonly spelled: Spelled;
  /** The sign to draw before the head, if any. */
  readonly accidental?: number;
  /** In brackets: a reminder, not a change. */
  readonly cautionary?: boolean;
  /** A glissando begins here: where its line ends, and the bars struck between. */
  readonly gliss?: PlacedGlissando;
  /** The line of the note before leads to this one. */
  readonly endsGliss?: true;
  /** Its line ends with this small head after it, for no note is there to lead to; on the last of tied symbols. */
  readonly smallEnd?: GracePitch;
  /** What this note is in the piece or reading it was derived from. */
  readonly ref: string;
}

/** `actual` notes in the time of `normal` of the same value. */
export interface ScoreTuplet {
  readonly actual: number;
  readonly normal: number;
  /** The value counted, as a denominator (8 for quavers). */
  readonly unit: NoteValue['base'];
  readonly onset: Fraction;
  readonly duration: Fraction;
}

/** Names a statement over the stave. */
export interface Bracket {
  readonly id: string;
  readonly part: string;
  readonly from: Fraction;
  readonly to: Fraction;
  readonly text: string;
}
