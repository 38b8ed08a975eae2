import {
  add,
  divide,
  equal,
  type Fraction,
  fraction,
  larger,
  less,
  multiply,
  negate,
  smaller,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import type { Key } from '../foundation/key.ts';
import { barLength, type Metre } from '../foundation/metre.ts';
import { type NoteValue, valueLength, valueOf } from '../foundation/noteValue.ts';
import { midiOf, type Spelled } from '../foundation/pitch.ts';
import { finish, type Sliced } from '../foundation/sliced.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import type { PlacedNote } from '../plan/placed.ts';
import { signsForBar } from './accidentals.ts';
import { beamGroups } from './beams.ts';
import { keyAt } from './keyAt.ts';
import { metreAt } from './metreAt.ts';
import type { GracePitch, Score, ScoreBar, ScoreSymbol, WrittenPitch } from './score.ts';
import { type GlissEnds, glissEnds } from './glissEnds.ts';
import { fillBar, type Span, spansOf } from './spans.ts';
import { splitSpan } from './split.ts';
import { type TupletWindow, tupletWindows, windowAt } from './tuplets.ts';

export interface Frame {
  readonly metre: Metre;
  /** Later metres, by bar index, an upbeat counted. */
  readonly metres?: NonNullable<Score['metres']>;
  readonly key: Key;
  /** Later keys, by bar index, an upbeat counted. */
  readonly keys?: NonNullable<Score['keys']>;
  readonly upbeat: Fraction;
  /** Full bars, the upbeat not counted. */
  readonly bars: number;
  /** Length of the last of them where the upbeat is taken out of it, in semibreves; absent for a full one. */
  readonly last?: Fraction;
}

interface Drawn {
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly value: NoteValue;
  readonly window?: TupletWindow;
}

/** Cuts a stretch inside one tuplet into drawable values. */
const drawInTuplet = (w: TupletWindow, from: Fraction, to: Fraction): Drawn[] => {
  const part = divide(subtract(w.to, w.from), fraction(w.actual));
  const scale = divide(fraction(w.actual), fraction(w.normal));
  const whole = valueOf(multiply(subtract(to, from), scale));
  if (whole !== undefined) {
    return [{ onset: from, duration: subtract(to, from), value: whole, window: w }];
  }
  const cut = add(from, part);
  if (less(cut, to)) return [...drawInTuplet(w, from, cut), ...drawInTuplet(w, cut, to)];
  const value: NoteValue = { base: w.unit, dots: 0 };
  return [{ onset: from, duration: subtract(to, from), value, window: w }];
};

const draw = (m: Metre, windows: readonly TupletWindow[], span: Span): Drawn[] => {
  const kind = span.notes.length > 0 ? 'note' : 'rest';
  const out: Drawn[] = [];
  let at = span.from;
  while (less(at, span.to)) {
    const w = windowAt(windows, at);
    if (w !== undefined) {
      const end = smaller(w.to, span.to);
      out.push(...drawInTuplet(w, at, end));
      at = end;
    } else {
      const ahead = windows.find(other => less(at, other.from) && less(other.from, span.to));
      const end = ahead === undefined ? span.to : ahead.from;
      for (const piece of splitSpan(m, at, end, kind)) {
        out.push({ onset: piece.onset, duration: valueLength(piece.value), value: piece.value });
      }
      at = end;
    }
  }
  return out;
};

/** The bars of a frame: where each starts, how long it is, and where its (full) barline would be. */
const barFrames = (frame: Frame): { start: Fraction; length: Fraction; origin: Fraction; metre: Metre }[] => {
  const before = frame.upbeat.n === 0 ? 0 : 1;
  let at = ZERO;
  const full = Array.from({ length: frame.bars }, (_, i) => {
    const metre = metreAt(frame, i + before);
    const start = at;
    const length = barLength(metre);
    at = add(at, length);
    return { start, length: i === frame.bars - 1 ? (frame.last ?? length) : length, origin: start, metre };
  });
  if (before === 0) return full;
  const { metre, upbeat } = frame;
  return [{ start: negate(upbeat), length: upbeat, origin: negate(barLength(metre)), metre }, ...full];
};

/**
 * Writes the notes of one part as bars of symbols: cut at barlines and beats, tied, with rests,
 * dots, tuplets, beams and accidentals. Notes outside the frame are not drawn; callers size the
 * frame to hold them.
 */
export const engravePart = (frame: Frame, notes: readonly PlacedNote[]): readonly ScoreBar[] =>
  finish(engravePartInSlices(frame, notes));

/** {@link engravePart}, a bar at a time. */
export function* engravePartInSlices(
  frame: Frame,
  notes: readonly PlacedNote[],
): Sliced<readonly ScoreBar[]> {
  const spans = spansOf(notes);
  const lines = glissEnds(spans);
  let before: ReadonlyMap<string, number> = new Map();
  let next = 0;
  const bars: ScoreBar[] = [];
  for (const [index, bar] of barFrames(frame).entries()) {
    const end = add(bar.start, bar.length);
    const own: Span[] = [];
    // Spans are in order and never overlap; one may reach into several bars.
    for (let i = next; i < spans.length; i++) {
      const span = spans[i];
      if (span === undefined || !less(span.from, end)) break;
      own.push(span);
      if (!less(end, span.to)) next = i + 1;
    }
    const filled = fillBar(own, bar.start, end);
    const local = filled.map(span => ({
      ...span,
      from: subtract(span.from, bar.origin),
      to: subtract(span.to, bar.origin),
    }));
    const empty = filled.every(span => span.notes.length === 0);
    const windows = empty
      ? []
      : tupletWindows(
          bar.metre,
          local.flatMap(span => [span.from, span.to]),
        );
    const signs = signsForBar(keyAt(frame, index), before, keyAt(frame, Math.max(0, index - 1)));
    const symbols: ScoreSymbol[] = [];
    if (empty && equal(bar.length, barLength(bar.metre))) {
      symbols.push(wholeBarRest(bar.start, bar.length));
    } else {
      local.forEach(span => {
        const drawn = draw(bar.metre, windows, span);
        drawn.forEach((piece, k) => {
          const tiedFrom = span.notes.length > 0 && (k > 0 || span.heldFrom === true);
          const tiedTo = span.notes.length > 0 && (k < drawn.length - 1 || span.heldTo === true);
          const window = piece.window;
          const marks = tiedFrom ? {} : marksOf(span.notes, pitch => signs.next(pitch, false).accidental);
          symbols.push({
            onset: add(piece.onset, bar.origin),
            duration: piece.duration,
            value: piece.value,
            pitches: span.notes.map(note => ({
              spelled: note.pitch,
              ref: note.ref,
              ...signs.next(note.pitch, tiedFrom),
              ...lineOf(note, lines, tiedFrom, tiedTo, pitch => signs.next(pitch, false).accidental),
            })),
            tiedFrom,
            tiedTo,
            ...(window === undefined ? {} : { tuplet: windows.indexOf(window) }),
            ...marks,
            ...(span.notes.some(note => note.roll === true) ? { roll: true } : {}),
            ...(tiedTo ? {} : endMarksOf(span.notes)),
          });
        });
      });
    }
    before = signs.seen;
    bars.push({
      index,
      number: frame.upbeat.n === 0 ? index + 1 : index,
      start: bar.start,
      length: bar.length,
      symbols,
      tuplets: windows.map(w => ({
        actual: w.actual,
        normal: w.normal,
        unit: w.unit,
        onset: add(w.from, bar.origin),
        duration: subtract(w.to, w.from),
      })),
      beams: beamGroups(bar.metre, bar.origin, symbols),
    });
    yield undefined;
  }
  return bars;
}

/** The line of a glissando begins with the first of tied symbols, and ends after the last. */
const lineOf = (
  note: PlacedNote,
  { led, ends }: GlissEnds,
  tiedFrom: boolean,
  tiedTo: boolean,
  sign: (pitch: Spelled) => number | undefined,
): Pick<WrittenPitch, 'gliss' | 'endsGliss' | 'smallEnd'> => ({
  ...(note.gliss === undefined || tiedFrom ? {} : { gliss: note.gliss }),
  ...(ends.has(note) && !tiedFrom ? { endsGliss: true } : {}),
  ...(note.gliss === undefined || tiedTo || led.has(note) ? {} : { smallEnd: signedBy(sign)(note.gliss.to) }),
});

const signedBy =
  (sign: (pitch: Spelled) => number | undefined) =>
  (pitch: Spelled): GracePitch => {
    const accidental = sign(pitch);
    return accidental === undefined ? pitch : { ...pitch, accidental };
  };

/** What begins with notes struck together; it belongs to their first symbol. */
const marksOf = (
  notes: readonly PlacedNote[],
  sign: (pitch: Spelled) => number | undefined,
): Pick<
  ScoreSymbol,
  'grace' | 'ruff' | 'articulation' | 'dynamic' | 'hairpin' | 'slur' | 'pedal' | 'words' | 'dead'
> => {
  const signed = signedBy(sign);
  const ruff = (notes.find(note => note.ruff !== undefined)?.ruff ?? []).map(signed);
  const grace = notes.flatMap(note => (note.grace === undefined ? [] : [signed(note.grace)]));
  const articulation = notes.find(note => note.articulation !== undefined)?.articulation;
  const dynamic = notes.find(note => note.dynamic !== undefined)?.dynamic;
  const hairpin = notes.find(note => note.hairpin !== undefined)?.hairpin;
  const words = notes.find(note => note.words !== undefined)?.words;
  return {
    ...(grace.length === 0 ? {} : { grace }),
    ...(ruff.length === 0 ? {} : { ruff }),
    ...(articulation === undefined ? {} : { articulation }),
    ...(dynamic === undefined ? {} : { dynamic }),
    ...(hairpin === undefined ? {} : { hairpin }),
    ...(notes.some(note => note.slur === 'start') ? { slur: 'start' } : {}),
    ...(notes.some(note => note.pedal === true) ? { pedal: true } : {}),
    ...(words === undefined ? {} : { words }),
    ...(notes.some(note => note.dead === true) ? { dead: true } : {}),
  };
};

/** What ends with notes struck together or holds them; it belongs to the last symbol of their tie. */
const endMarksOf = (
  notes: readonly PlacedNote[],
): Pick<ScoreSymbol, 'hairpinEnds' | 'slur' | 'pedalEnds' | 'fermata' | 'ring'> => ({
  ...(notes.some(note => note.hairpinEnds === true) ? { hairpinEnds: true } : {}),
  ...(notes.some(note => note.slur === 'stop') ? { slur: 'stop' } : {}),
  ...(notes.some(note => note.pedalEnds === true) ? { pedalEnds: true } : {}),
  ...(notes.some(note => note.fermata === true) ? { fermata: true } : {}),
  ...(notes.some(note => note.ring === true) ? { ring: true } : {}),
});

const wholeBarRest = (at: Fraction, length: Fraction): ScoreSymbol => ({
  onset: at,
  duration: length,
  value: { base: 1, dots: 0 },
  pitches: [],
  tiedFrom: false,
  tiedTo: false,
  wholeBar: true,
});

/**
 * Full bars needed to hold every note, at least `least`.
 * @example
 * barsNeeded(metre(4, 4), []) // => 1
 */
export const barsNeeded = (m: Metre, notes: readonly PlacedNote[], least = 1): number => {
  const end = notes.reduce((so, note) => larger(so, add(note.onset, note.duration)), ZERO);
  const bars = divide(end, barLength(m));
  return Math.max(least, Math.ceil(bars.n / bars.d));
};

/**
 * The clef that keeps the part nearest the stave. Only the marimba is read in the bass clef, when
 * most of its notes lie below A3 (its range goes to A2); the others are read in the treble clef
 * throughout (common practice, no source).
 * @example
 * clefFor([{ onset: ZERO, duration: fraction(1), pitch: spell(key('C'), 48), ref: '' }]) // => 'bass'
 */
export const clefFor = (
  notes: readonly PlacedNote[],
  instrument: InstrumentId = 'marimba',
): 'treble' | 'bass' => {
  if (INSTRUMENTS[instrument].low > 50) return 'treble';
  const low = notes.filter(note => midiOf(note.pitch) < 57).length;
  return notes.length > 0 && low * 2 > notes.length ? 'bass' : 'treble';
};
