import {
  add,
  compare,
  divide,
  equal,
  floor,
  type Fraction,
  fraction,
  larger,
  remainder,
  subtract,
  times,
} from '../foundation/fraction.ts';
import { gracesOf, type Reading, type ReadNote } from '../reading/model/reading.ts';
import type { Take } from '../take/take.ts';
import { FAST_RUN } from '../take/fastRuns.ts';
import { gracesOn } from './graceEdits.ts';

/** Values a roll is written out in, as denominators: quavers to hemidemisemiquavers, and triplets of them. */
const WRITTEN_IN: readonly number[] = [8, 12, 16, 24, 32, 48, 64];

const endOf = (note: ReadNote): Fraction => add(note.onset, note.duration);

/** The notes that are rolled together with one: two of them where two bars were struck in turn. */
const rolledWith = (reading: Reading, note: ReadNote): readonly ReadNote[] =>
  reading.notes.filter(n => n.roll !== undefined && equal(n.onset, note.onset));

/** The value of which `count` fit best into a note: so many of them or hardly more, the longest such value. */
const valueFor = (onset: Fraction, duration: Fraction, count: number): Fraction | undefined => {
  const fitting = WRITTEN_IN.map(d => ({ value: fraction(1, d), room: floor(times(duration, d)) })).filter(
    ({ value, room }) => room >= count && remainder(onset, value).n === 0,
  );
  const least = Math.min(...fitting.map(f => f.room));
  return fitting.find(f => f.room === least)?.value;
};

/**
 * Onsets of so many strokes, as evenly over a note as values allow; undefined where the shortest value cannot say them.
 * @example spreadOver(fraction(0), fraction(1, 4), 3).map(show) // => ['0', '1/12', '1/6']
 */
export const spreadOver = (
  onset: Fraction,
  duration: Fraction,
  count: number,
): readonly Fraction[] | undefined => {
  if (count === 1) return [onset];
  const value = valueFor(onset, duration, count);
  if (value === undefined) return undefined;
  const room = floor(divide(duration, value));
  return Array.from({ length: count }, (_, i) => add(onset, times(value, Math.floor((i * room) / count))));
};

/**
 * A rolled note as the strokes that were struck, evenly over its length; of two bars rolled together both.
 * @returns undefined where it is not rolled, or has more strokes than the shortest value can say
 * @example
 * const rolled = { onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0, roll: [0, 1, 2, 3] };
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [rolled], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * strokesOfRoll(reading, rolled).map(n => show(n.onset)) // => ['0', '1/16', '1/8', '3/16']
 */
export const strokesOfRoll = (reading: Reading, note: ReadNote): readonly ReadNote[] | undefined => {
  if (note.roll === undefined) return undefined;
  const rolled = rolledWith(reading, note);
  const end = rolled.reduce((so, n) => larger(so, endOf(n)), note.onset);
  // A take's strikes are in order of time.
  const strokes = rolled
    .flatMap(from => (from.roll ?? []).map(strike => ({ strike, from })))
    .sort((a, b) => a.strike - b.strike);
  const onsets = spreadOver(note.onset, subtract(end, note.onset), strokes.length);
  return (
    onsets &&
    strokes.map(({ strike, from }, i) => {
      const { roll: _, grace: __, ruff: ___, elsewhere: ____, ...plain } = from;
      const onset = onsets[i] ?? note.onset;
      return {
        ...plain,
        strike,
        onset,
        duration: subtract(onsets[i + 1] ?? end, onset),
        // What led to the roll leads to its first stroke alone.
        ...(strike === from.strike ? gracesOf(gracesOn(from)) : {}),
      };
    })
  );
};

/** The reading with a roll written out as its strokes; as it was where that cannot be. */
export const withoutRoll = (reading: Reading, note: ReadNote): readonly ReadNote[] => {
  const strokes = strokesOfRoll(reading, note);
  if (strokes === undefined) return reading.notes;
  const rolled = rolledWith(reading, note);
  return [...reading.notes.filter(n => !rolled.includes(n)), ...strokes];
};

/**
 * The notes of a reading with some of them gathered to one note that is rolled, on one bar or on two; as they were
 * where they are on more. No stroke is lost: `roll` names them.
 */
export const withRoll = (reading: Reading, strikes: ReadonlySet<number>): readonly ReadNote[] => {
  const own = reading.notes.filter(n => strikes.has(n.strike)).sort((a, b) => compare(a.onset, b.onset));
  const pitches = [...new Set(own.map(n => n.pitch))];
  const [first] = own;
  if (first === undefined || pitches.length > 2) return reading.notes;
  const end = own.reduce((so, n) => larger(so, endOf(n)), first.onset);
  const rolled = pitches.flatMap(pitch => {
    const on = own.filter(n => n.pitch === pitch);
    const [one] = on;
    if (one === undefined) return [];
    const { elsewhere: _, ...note } = one;
    // Within the roll a flam's soft stroke is one more of its strokes.
    const within = on.slice(1).flatMap(n => gracesOn(n).filter(g => g.pitch === pitch));
    const roll = [...within.map(g => g.strike), ...on.flatMap(n => n.roll ?? [n.strike])].sort(
      (a, b) => a - b,
    );
    return [{ ...note, doubt: 0, onset: first.onset, duration: subtract(end, first.onset), roll }];
  });
  return [...reading.notes.filter(n => !strikes.has(n.strike)), ...rolled];
};

/**
 * The notes around one that are its strokes again: struck on the same bar, or on two in turn, one soon after the
 * other, itself among them; that note alone where there are none.
 * @returns strikes in order of their notes
 * @example
 * const one = (at, pitch) => ({ onset: fraction(at, 16), duration: fraction(1, 16), pitch, strike: at, doubt: 0 });
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [one(0, 60), one(1, 60), one(2, 60), one(3, 64)], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * const strikes = [0, 1, 2, 3].map(i => ({ at: i / 8, pitch: 60, velocity: 80 }));
 * strokesAround(reading, { strikes }, reading.notes[1]) // => [0, 1, 2]
 */
export const strokesAround = (
  reading: Reading,
  { strikes }: Pick<Take, 'strikes'>,
  note: ReadNote,
): readonly number[] => {
  const line = [...reading.notes].sort((a, b) => compare(a.onset, b.onset) || a.pitch - b.pitch);
  const at = line.indexOf(note);
  if (at < 0) return [note.strike];
  const isSoon = (one: ReadNote | undefined, next: ReadNote | undefined): boolean => {
    const gap = (strikes[next?.strike ?? -1]?.at ?? NaN) - (strikes[one?.strike ?? -1]?.at ?? NaN);
    return gap > 0 && gap <= FAST_RUN.longest && one?.roll === undefined && next?.roll === undefined;
  };
  const isAlone = (i: number): boolean =>
    [line[i - 1], line[i + 1]].every(n => n === undefined || !equal(n.onset, line[i]?.onset ?? n.onset));
  /** The run through the note in which every other one has this pitch. */
  const runWith = (other: number): readonly number[] => {
    const goesOn = (i: number, j: number): boolean =>
      line[j]?.pitch === ((j - at) % 2 === 0 ? note.pitch : other) &&
      isAlone(i) &&
      isAlone(j) &&
      isSoon(line[Math.min(i, j)], line[Math.max(i, j)]);
    let from = at;
    let to = at;
    while (from > 0 && goesOn(from, from - 1)) from--;
    while (to + 1 < line.length && goesOn(to, to + 1)) to++;
    return line.slice(from, to + 1).map(n => n.strike);
  };
  const longest = (runs: readonly (readonly number[])[]): readonly number[] =>
    runs.reduce((so, run) => (run.length > so.length ? run : so), []);
  const same = runWith(note.pitch);
  const inTurn = longest(
    [line[at - 1], line[at + 1]].flatMap(n => (n === undefined ? [] : [runWith(n.pitch)])),
  );
  return inTurn.length >= FAST_RUN.twoBars.fewest && inTurn.length > same.length ? inTurn : same;
};
