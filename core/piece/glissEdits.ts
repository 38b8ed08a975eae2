import { add, compare, equal, larger, subtract } from '../foundation/fraction.ts';
import { gracesOf, type Reading, type ReadNote } from '../reading/model/reading.ts';
import { DRAWN } from '../take/glissandi.ts';
import type { Take } from '../take/take.ts';
import { gracesOn } from './graceEdits.ts';
import { spreadOver } from './rollEdits.ts';

const endOf = (note: ReadNote): ReadNote['onset'] => add(note.onset, note.duration);

/**
 * A glissando as the strokes that were struck, evenly over its length; the note alone where its line has no other.
 * @returns undefined where it has no line, or more strokes than the shortest value can say
 * @example
 * const strokes = [60, 62, 64, 65].map((pitch, strike) => ({ strike, pitch }));
 * const drawn = { onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0, gliss: { strokes, to: 65 } };
 * strokesOfGliss(drawn).map(n => [show(n.onset), n.pitch]) // => [['0', 60], ['1/16', 62], ['1/8', 64], ['3/16', 65]]
 */
export const strokesOfGliss = (note: ReadNote): readonly ReadNote[] | undefined => {
  const { gliss, grace: _, ruff: __, elsewhere: ___, name, ...plain } = note;
  if (gliss === undefined) return undefined;
  const onsets = spreadOver(note.onset, note.duration, gliss.strokes.length);
  return onsets?.map((onset, i) => ({
    ...plain,
    onset,
    duration: subtract(onsets[i + 1] ?? endOf(note), onset),
    // The first may have been given another pitch or name by hand; what led to the line leads to it.
    ...(i === 0
      ? { ...gracesOf(gracesOn(note)), ...(name === undefined ? {} : { name }) }
      : (gliss.strokes[i] ?? {})),
  }));
};

/** The notes of a reading with a glissando written out as its strokes; as they were where that cannot be. */
export const withoutGliss = (reading: Reading, note: ReadNote): readonly ReadNote[] => {
  const strokes = strokesOfGliss(note);
  return strokes === undefined ? reading.notes : [...reading.notes.filter(n => n !== note), ...strokes];
};

/**
 * Whether notes are such that a mallet can be drawn over them: one after the other, all upwards or all downwards.
 * @param notes in order of their onsets
 */
export const isLine = (notes: readonly ReadNote[]): boolean => {
  const [first, second] = notes;
  if (first === undefined || second === undefined) return false;
  const way = Math.sign(second.pitch - first.pitch);
  return notes.every((note, i) => {
    const before = notes[i - 1];
    if (note.roll !== undefined || note.gliss !== undefined) return false;
    return (
      before === undefined || (compare(before.onset, note.onset) < 0 && (note.pitch - before.pitch) * way > 0)
    );
  });
};

/**
 * The notes of a reading with some of them gathered to one with a line; as they were where they are no line. No stroke
 * is lost: `gliss` names them.
 * @param strikes of the notes that are gathered, one or more
 * @param into the strike of the note to which the line leads, and which stays a note; it begins where they end
 */
export const withGliss = (
  reading: Reading,
  strikes: ReadonlySet<number>,
  into?: number,
): readonly ReadNote[] => {
  const own = reading.notes.filter(n => strikes.has(n.strike)).sort((a, b) => compare(a.onset, b.onset));
  const target = reading.notes.find(n => n.strike === into);
  const [first] = own;
  if (first === undefined || !isLine([...own, ...(target === undefined ? [] : [target])]))
    return reading.notes;
  const end = own.reduce((so, n) => larger(so, endOf(n)), first.onset);
  if (target !== undefined && !equal(end, target.onset)) return reading.notes;
  const { elsewhere: _, ...note } = first;
  const strokes = own.flatMap((n, i) => [
    ...(i === 0 ? [] : gracesOn(n)),
    { strike: n.strike, pitch: n.pitch },
  ]);
  const to = target?.pitch ?? own.at(-1)?.pitch ?? first.pitch;
  const drawn = { ...note, doubt: 0, duration: subtract(end, first.onset), gliss: { strokes, to } };
  return [...reading.notes.filter(n => !strikes.has(n.strike)), drawn];
};

/**
 * Lines that lead to a note, when that is put on another bar: they still do.
 * @param before the note as it was
 */
export const ledAlong = (notes: readonly ReadNote[], before: ReadNote, pitch: number): readonly ReadNote[] =>
  notes.map(n =>
    n.gliss?.to === before.pitch && n.pitch !== pitch && equal(endOf(n), before.onset)
      ? { ...n, gliss: { ...n.gliss, to: pitch } }
      : n,
  );

/**
 * The notes around one that are a line with it: on neighbouring bars, in one direction, one soon after the other.
 * @returns strikes in order of their notes; that note alone where there are none
 * @example
 * const one = (at, pitch) => ({ onset: fraction(at, 32), duration: fraction(1, 32), pitch, strike: at, doubt: 0 });
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [one(0, 60), one(1, 62), one(2, 64), one(3, 72)], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * const strikes = [0, 1, 2, 3].map(i => ({ at: i / 20, pitch: 60, velocity: 80 }));
 * lineAround(reading, { strikes }, reading.notes[1]) // => [0, 1, 2]
 */
export const lineAround = (
  reading: Reading,
  { strikes }: Pick<Take, 'strikes'>,
  note: ReadNote,
): readonly number[] => {
  const row = [...reading.notes].sort((a, b) => compare(a.onset, b.onset) || a.pitch - b.pitch);
  const at = row.indexOf(note);
  const stepTo = (i: number): number => {
    const [one, next] = [row[i], row[i + 1]];
    if (one === undefined || next === undefined || equal(one.onset, next.onset)) return 0;
    const gap = (strikes[next.strike]?.at ?? NaN) - (strikes[one.strike]?.at ?? NaN);
    const step = next.pitch - one.pitch;
    return gap > 0 && gap <= DRAWN.longest && Math.abs(step) <= DRAWN.steps ? Math.sign(step) : 0;
  };
  const runs = [1, -1].map(way => {
    let [from, to] = [at, at];
    while (stepTo(from - 1) === way) from--;
    while (stepTo(to) === way) to++;
    return row.slice(from, to + 1).map(n => n.strike);
  });
  return runs.reduce((so, run) => (run.length > so.length ? run : so), []);
};
