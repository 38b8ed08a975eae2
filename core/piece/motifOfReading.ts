import type { BarNumber, MidiPitch } from '../foundation/units.ts';
import {
  add,
  atMost,
  equal,
  type Fraction,
  larger,
  less,
  negate,
  smaller,
  subtract,
  times,
  ZERO,
} from '../foundation/fraction.ts';
import { type Key, type ScalePitch, spell, toScale, toScaleAs } from '../foundation/key.ts';
import { barLength } from '../foundation/metre.ts';
import { midiOf, type Spelled } from '../foundation/pitch.ts';
import { barAndBeat, beatsLater, positionOf } from '../plan/beats.ts';
import { inOrder, type Motif, soundingEnd, upbeatOf } from '../motif/motif.ts';
import { glissandoIn } from '../motif/glissando.ts';
import { spellingOf } from '../motif/spellNotes.ts';
import type { Reading } from '../reading/model/reading.ts';

/** Bars of a reading, counted from 1 (0 is an upbeat); `to` is the last one taken. */
export interface BarRange {
  readonly from: BarNumber;
  readonly to: BarNumber;
  /** Strikes of those bars that do not belong to the motif; silence stands in their place. */
  readonly without?: readonly number[];
  /** It ends with the beat its last note ends in, not with its last bar: repeats follow without a gap. */
  readonly joined?: true;
  /**
   * Its last note is cut where its next upbeat begins, and the silence after its last beat is no part of the idea but
   * a wait. Ranges first taken since version 17 say so; one that was kept before rings on and keeps its silence, cut
   * anew, too.
   */
  readonly closed?: true;
}

/** A further motif from the same take. */
export interface MotifCut extends BarRange {
  /** "2" for the second motif, and so on. */
  readonly id: string;
}

/**
 * The bars that hold the given notes, without the other notes in them; undefined when none is given.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0.2 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * cutOfNotes(reading, [0]) // => { from: 1, to: 1, closed: true }
 */
export const cutOfNotes = (reading: Reading, strikes: readonly number[]): BarRange | undefined => {
  const wanted = new Set(strikes);
  const bars = reading.notes
    .filter(n => wanted.has(n.strike))
    .map(n => barAndBeat(reading.metre, n.onset).bar);
  if (bars.length === 0) return undefined;
  const range: BarRange = { from: Math.min(...bars), to: Math.max(...bars), closed: true };
  const without = reading.notes
    .filter(n => !wanted.has(n.strike) && barAndBeat(reading.metre, n.onset).bar >= range.from)
    .filter(n => barAndBeat(reading.metre, n.onset).bar <= range.to)
    .map(n => n.strike);
  return without.length === 0 ? range : { ...range, without };
};

/**
 * Full bars a reading fills, at least 1.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0.2 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * fullBars(reading) // => 1
 */
export const fullBars = (reading: Reading): number => {
  const end = reading.notes.reduce((so: Fraction, note) => larger(so, add(note.onset, note.duration)), {
    n: 0,
    d: 1,
  });
  return Math.max(1, Math.ceil((end.n * reading.metre.lower) / (end.d * reading.metre.upper)));
};

/**
 * What most likely is the idea itself: one period where it was repeated, otherwise the whole.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0.2 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * likelyMotif(reading) // => { from: 1, to: 1, closed: true }
 */
export const likelyMotif = (reading: Reading): BarRange => {
  const first = reading.upbeat.n > 0 ? 0 : 1;
  const to = Math.max(1, Math.min(reading.period ?? fullBars(reading), fullBars(reading)));
  return { from: first, to, closed: true };
};

/**
 * The motif in those bars: notes that start in them, cut at their end, told by the scale of the key. With
 * its upbeat (bars from 0) it ends as much before the barline as it begins before one, so that repeats
 * join as they were played (common practice, no source): a last note is cut there. One that is only struck there has
 * another bar to end in, if nothing follows that could begin there.
 */
export const motifOfReading = (reading: Reading, k: Key, range: BarRange): Motif => {
  const whole = wholeBars(reading, k, range);
  const wait = silence(whole);
  if (range.joined === true) return { ...whole, length: subtract(whole.length, wait) };
  return range.closed === true && wait.n > 0 ? { ...whole, wait } : whole;
};

/** What is silent at the end of a motif from the next beat on, in semibreves; all but a beat where it is empty. */
const silence = (whole: Motif): Fraction => {
  const m = whole.metre;
  const sounding = soundingEnd(whole);
  const { bar, beat } = barAndBeat(m, sounding);
  const beatStart = positionOf(m, bar, beat);
  const end = sounding.n > 0 && equal(beatStart, sounding) ? sounding : beatsLater(m, beatStart, 1);
  return larger(ZERO, subtract(subtract(whole.length, upbeatOf(whole)), end));
};

/**
 * How long repeats of a motif wait for its last barline, whole beats in semibreves; zero where its last note
 * lasts up to there. Three crotchets in a bar of 4/4 wait for one.
 */
export const gapAfter = (reading: Reading, k: Key, range: BarRange): Fraction =>
  silence(wholeBars(reading, k, range));

/** A flam is struck on the same bar as its note, and has its letter; a leading note has its own. */
const graceOf = (k: Key, pitch: MidiPitch, note: Spelled): ScalePitch =>
  midiOf(note) === pitch ? toScaleAs(k, note) : toScale(k, pitch);

const wholeBars = (reading: Reading, k: Key, range: BarRange): Motif => {
  const bar = barLength(reading.metre);
  const upbeat = range.from < 1 ? reading.upbeat : ZERO;
  const spelled = spellingOf(reading.notes, k);
  const own = reading.notes
    .map((note, i) => ({ ...note, spelled: spelled[i] ?? spell(k, note.pitch) }))
    .filter(note => range.without?.includes(note.strike) !== true);
  const start = upbeat.n > 0 ? negate(upbeat) : times(bar, Math.max(range.from, 1) - 1);
  const last = times(bar, range.to);
  const goesOn = reading.notes.some(note => !less(note.onset, last));
  const close = subtract(last, upbeat);
  const overEnd = own.some(
    ({ onset, duration }) =>
      less(onset, last) && (range.closed === true ? atMost(close, onset) : less(close, add(onset, duration))),
  );
  const to = upbeat.n > 0 && overEnd && !goesOn ? add(close, bar) : close;
  const barline = add(start, upbeat);
  return {
    key: k,
    metre: reading.metre,
    ...(reading.swing === undefined ? {} : { swing: reading.swing }),
    ...(upbeat.n > 0 ? { upbeat } : {}),
    length: subtract(to, start),
    notes: inOrder(
      own
        .filter(note => !less(note.onset, start) && less(note.onset, to))
        .map(note => ({
          onset: subtract(note.onset, barline),
          duration: subtract(smaller(add(note.onset, note.duration), to), note.onset),
          ...toScaleAs(k, note.spelled),
          ...(note.grace === undefined ? {} : { grace: graceOf(k, note.grace.pitch, note.spelled) }),
          ...(note.ruff === undefined ? {} : { ruff: note.ruff.map(g => graceOf(k, g.pitch, note.spelled)) }),
          ...(note.roll === undefined ? {} : { roll: true }),
          ...(note.gliss === undefined ? {} : { gliss: glissandoIn(k, note.gliss) }),
          ...(note.name === undefined ? {} : { name: note.name }),
        })),
    ),
  };
};
