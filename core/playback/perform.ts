import { add, compare, type Fraction, fraction, less, subtract, toNumber } from '../foundation/fraction.ts';
import { lastUpTo } from '../foundation/lastUpTo.ts';
import { midiOf } from '../foundation/pitch.ts';
import type { MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import type { Articulation } from '../plan/dynamics.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { playedOut } from '../score/repeats.ts';
import { pedalsIn } from '../score/pedals.ts';
import type { Score, ScorePart, Stretch } from '../score/score.ts';
import { secondsAtOnset } from './seconds.ts';
import { loudnessIn } from './loudness.ts';
import type { Rendition, SoundingEvent } from './events.ts';
import { glissStrokes } from './gliss.ts';
import { ringingOn } from './ringing.ts';
import { rollStrokes } from './roll.ts';

/** A whole sounding note of a score, its tied symbols joined. Times from the start of the score, in semibreves. */
export interface ScoreNote {
  readonly part: string;
  readonly instrument: InstrumentId;
  readonly onset: Fraction;
  readonly duration: Fraction;
  /** As written, MIDI pitch. */
  readonly written: number;
  /** As it sounds, MIDI pitch. */
  readonly sounding: number;
  readonly ref: string;
  /** How hard it is struck, by the dynamic in force and its accent. */
  readonly velocity: Velocity;
  readonly articulation?: Articulation;
  /** Rolled, and as which of how many notes struck together, from 0. */
  readonly roll?: { readonly turn: number; readonly of: number };
  /** Written MIDI pitches of the bars its line strikes after its own, the last where the line ends on no note. */
  readonly gliss?: readonly MidiPitch[];
  /** Left to ring on, or struck dead. */
  readonly rings?: true;
  readonly dead?: true;
  /** Where the pedal that holds it is let go, counted as its onset. */
  readonly heldUntil?: Fraction;
  /** Written MIDI pitch of the grace note before it. */
  readonly grace?: number;
  /** Written MIDI pitches of the grace notes before that one, in order. */
  readonly ruff?: readonly number[];
}

/** An accent is one dynamic step louder (common practice, no source). */
const ACCENT = 16;

/** A note that one of the pedals, in order, holds; a staccato or a dead stroke is stopped by hand all the same. */
const heldBy = (pedals: readonly Stretch[], note: ScoreNote, upbeat: Fraction): ScoreNote => {
  if (pedals.length === 0 || note.articulation === 'staccato' || note.dead === true) return note;
  const at = subtract(note.onset, upbeat);
  const pedal = pedals[lastUpTo(pedals, p => toNumber(p.from), toNumber(at))];
  return pedal === undefined || !less(at, pedal.to) ? note : { ...note, heldUntil: add(pedal.to, upbeat) };
};

/** Joins ties: the notes of one part as they sound, measured from the first bar (upbeat included). */
export const notesOf = (part: ScorePart, upbeat: Fraction): readonly ScoreNote[] => {
  const open = new Map<number, ScoreNote>();
  const done: ScoreNote[] = [];
  const symbols = part.bars.flatMap(bar => bar.symbols);
  const loudness = loudnessIn(symbols);
  for (const [i, symbol] of symbols.entries()) {
    const loud = loudness[i] ?? 0;
    const velocity = Math.min(127, loud + (symbol.articulation === 'accent' ? ACCENT : 0));
    for (const [k, { spelled, ref, gliss, smallEnd }] of symbol.pitches.entries()) {
      const grace = symbol.grace?.[k];
      const written = midiOf(spelled);
      const before = symbol.tiedFrom ? open.get(written) : undefined;
      const note: ScoreNote =
        before === undefined
          ? {
              part: part.id,
              instrument: part.instrument,
              onset: add(symbol.onset, upbeat),
              duration: symbol.duration,
              written,
              sounding: written + INSTRUMENTS[part.instrument].soundsAbove,
              ref,
              velocity,
              ...(symbol.articulation === undefined ? {} : { articulation: symbol.articulation }),
              ...(symbol.roll === true ? { roll: { turn: k, of: symbol.pitches.length } } : {}),
              ...(gliss === undefined ? {} : { gliss: gliss.between }),
              ...(symbol.dead === true ? { dead: true } : {}),
              ...(grace === undefined ? {} : { grace: midiOf(grace) }),
              ...(k > 0 || symbol.ruff === undefined ? {} : { ruff: symbol.ruff.map(midiOf) }),
            }
          : { ...before, duration: add(before.duration, symbol.duration) };
      if (symbol.tiedTo) open.set(written, note);
      else {
        open.delete(written);
        const end = smallEnd === undefined ? {} : { gliss: [...(note.gliss ?? []), midiOf(smallEnd)] };
        done.push({ ...note, ...end, ...(symbol.ring === true ? { rings: true } : {}) });
      }
    }
  }
  const pedals = pedalsIn(part);
  const held = [...done, ...open.values()].map(note => heldBy(pedals, note, upbeat));
  return held.sort((a, b) => compare(a.onset, b.onset) || a.written - b.written);
};

/** A grace note is struck this long before its note or the next grace note (common practice, no source). */
export const GRACE_BEFORE: Seconds = 0.045;
/** and a little softer. */
const GRACE_SOFTER = 0.8;
/** A staccato note is held for half its length (common practice, no source). */
const STACCATO = 0.5;

/** How long a dead stroke sounds at most (our choice). */
const DEAD: Seconds = 0.1;

/** A note as it is struck: once, over and over, or drawn over the bars after its own. */
export const strokesOfSign = (stroke: SoundingEvent, note: ScoreNote): SoundingEvent[] =>
  note.gliss !== undefined
    ? glissStrokes(
        stroke,
        note.gliss.map(pitch => pitch + note.sounding - note.written),
      )
    : note.roll === undefined
      ? [stroke]
      : rollStrokes(stroke, note.roll);

/** How long a written length is held. */
const shortened = (note: ScoreNote, written: Seconds): Seconds => {
  const held = note.articulation === 'staccato' ? written * STACCATO : written;
  return note.dead === true ? Math.min(held, GRACE_BEFORE + DEAD) : held;
};

/** One note as strokes in time: itself, all strokes of a roll or of a line, and its grace notes first. Where there is no room before, the note gives way. */
export const soundedNote = (score: Score, note: ScoreNote): SoundingEvent[] => {
  const written = secondsAtOnset(score, note.onset);
  const small = note.grace === undefined ? [] : [...(note.ruff ?? []), note.grace];
  const before = Math.max(0, written - small.length * GRACE_BEFORE);
  const at = small.length === 0 ? written : before + small.length * GRACE_BEFORE;
  const end = secondsAtOnset(score, add(note.onset, note.duration));
  const main: SoundingEvent = {
    seconds: at,
    duration: shortened(note, end - written) - (at - written),
    pitch: note.sounding,
    velocity: note.velocity,
    instrument: note.instrument,
    ref: note.ref,
    ...(note.articulation === 'staccato' ? { stopped: true } : {}),
    ...(note.rings === true ? { rings: true } : {}),
    ...(note.heldUntil === undefined ? {} : { heldUntil: secondsAtOnset(score, note.heldUntil) }),
    ...(note.dead === true ? { dead: true } : {}),
  };
  const struck = strokesOfSign(main, note);
  const graces = small.map((pitch, i): SoundingEvent => ({
    seconds: before + i * GRACE_BEFORE,
    duration: GRACE_BEFORE,
    pitch: pitch + note.sounding - note.written,
    velocity: Math.max(1, Math.round(note.velocity * GRACE_SOFTER)),
    instrument: note.instrument,
  }));
  return [...graces, ...struck];
};

/**
 * A pitch that MIDI can say: what lies beyond is struck in the nearest octave that has a number. Written
 * high and moved up by octaves a glockenspiel gets there, and one wrong byte spoils the whole file.
 */
const inMidiRange = (pitch: number): number =>
  pitch > 127 ? 116 + ((pitch - 116) % 12) : pitch < 0 ? ((pitch % 12) + 12) % 12 : pitch;

/** The strokes of each part in seconds, repeats played out: what the sound plays and MIDI files hold. */
export const strokesByPart = (score: Score): readonly (readonly SoundingEvent[])[] => {
  const played = playedOut(score);
  return played.parts.map(part =>
    ringingOn(
      notesOf(part, played.upbeat)
        .flatMap(note => soundedNote(played, note))
        .map(stroke => ({
          ...stroke,
          pitch: inMidiRange(stroke.pitch),
          part: part.id,
          ...(part.balance === undefined ? {} : { balance: part.balance }),
          ...(part.mallet === undefined ? {} : { mallet: part.mallet }),
        }))
        .sort((a, b) => a.seconds - b.seconds),
    ),
  );
};

/**
 * A score as strokes in seconds: what the sound plays, and what the WAV holds.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const score = scoreOfPlan(idea, plan, 'Idea', 'Heron');
 * perform(score).events.map(e => e.pitch) // => [72]
 */
export const perform = (score: Score): Rendition => {
  const events = strokesByPart(score)
    .flat()
    .sort((a, b) => a.seconds - b.seconds);
  const played = playedOut(score);
  return { events, duration: secondsAtOnset(played, scoreLength(played)) };
};

/**
 * Length of a score as written, from its first bar, in semibreves.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const score = scoreOfPlan(idea, plan, 'Idea', 'Heron');
 * scoreLength(score) // => fraction(1)
 */
export const scoreLength = (score: Score): Fraction =>
  (score.parts[0]?.bars ?? []).reduce((so, bar) => add(so, bar.length), fraction(0));
