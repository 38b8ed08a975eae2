import { add, equal, type Fraction, remainder, subtract, times } from '../foundation/fraction.ts';
import { barLength, sameMetre } from '../foundation/metre.ts';
import type { Hints, Reading } from '../reading/model/reading.ts';
import { barAndBeat } from '../plan/plan.ts';
import { correct, type Edit } from './edit.ts';
import { cutOfNotes, type MotifCut } from './motifOfReading.ts';
import { corrected, type Piece, suggestedKey } from './piece.ts';

/** A strike and the place it is to be written at, in semibreves from the first barline. */
export interface Pin {
  readonly strike: number;
  readonly onset: Fraction;
}

/**
 * The same note in every other time through an idea that comes again: struck on the same bar and
 * written at the same place of its repeat. A correction of one is a correction of all.
 */
const inRepeats = (reading: Reading, pin: Pin): readonly Pin[] => {
  const note = reading.notes.find(n => n.strike === pin.strike);
  if (note === undefined || reading.period === undefined || reading.period < 1) return [];
  const period = times(barLength(reading.metre), reading.period);
  return reading.notes.flatMap(other => {
    const apart = subtract(other.onset, note.onset);
    const same = other.strike !== pin.strike && other.strike >= 0 && other.pitch === note.pitch;
    return same && remainder(apart, period).n === 0
      ? [{ strike: other.strike, onset: add(pin.onset, apart) }]
      : [];
  });
};

/** Pins with those of the same notes in the repeats of the idea. */
export const withRepeats = (reading: Reading, pins: readonly Pin[]): readonly Pin[] => {
  const own = new Set(pins.map(p => p.strike));
  const more = pins.flatMap(p => inRepeats(reading, p)).filter(p => !own.has(p.strike));
  return [...pins, ...new Map(more.map(p => [p.strike, p])).values()];
};

/**
 * What the reader is told when notes of the page are put elsewhere by hand: the new pins, in place of
 * older ones on the same strikes. Without a click the page's metre and tempo are told as well, because
 * the place was chosen on them.
 */
export const withPins = (piece: Pick<Piece, 'take' | 'hints' | 'reading'>, pins: readonly Pin[]): Hints => {
  const moved = new Set(pins.map(p => p.strike));
  const others = (piece.hints.pins ?? []).filter(p => !moved.has(p.strike));
  const open = piece.hints.free === true || piece.take.click === undefined;
  const beatOpen = open && (piece.hints.taps ?? []).length < 2;
  return {
    ...piece.hints,
    ...(beatOpen ? { metre: piece.reading.metre, tempo: piece.hints.tempo ?? piece.reading.tempo } : {}),
    pins: [...others, ...pins],
  };
};

/** Hints without the pins of some strikes. */
export const withoutPins = (hints: Hints, strikes: readonly number[]): Hints => {
  const { pins = [], ...rest } = hints;
  const left = pins.filter(p => !strikes.includes(p.strike));
  return left.length === 0 ? rest : { ...rest, pins: left };
};

/** Strikes that two readings write at different places. */
export const movedStrikes = (before: Reading, after: Reading): readonly number[] => {
  const places = new Map(before.notes.map(n => [n.strike, n.onset]));
  return after.notes
    .filter(n => {
      const was = places.get(n.strike);
      return was === undefined || !equal(was, n.onset);
    })
    .map(n => n.strike);
};

/**
 * Which of the new readings the page goes on with: the best, where it was written by the best before;
 * otherwise the one that leaves most of it as it is, because the teacher had chosen that one.
 */
export const successor = (
  current: Reading,
  wasBest: boolean,
  found: readonly Reading[],
): Reading | undefined => {
  const [best] = found;
  if (wasBest || best === undefined) return best;
  const changes = found.map(r =>
    sameMetre(r.metre, current.metre) ? movedStrikes(current, r).length : Infinity,
  );
  const least = Math.min(...changes);
  return least === Infinity ? best : found[changes.indexOf(least)];
};

/** The notes of a further motif, cut out of another reading: its bars may be numbered otherwise there. */
const recut = (cut: MotifCut, before: Reading, after: Reading): MotifCut => {
  const strikes = before.notes
    .filter(n => {
      const { bar } = barAndBeat(before.metre, n.onset);
      return bar >= cut.from && bar <= cut.to && cut.without?.includes(n.strike) !== true;
    })
    .map(n => n.strike);
  return { ...(cutOfNotes(after, strikes) ?? cut), id: cut.id };
};

/**
 * The piece with another reading and other edits. In another metre bars are other bars: the motif is
 * the likely one again, and further motifs keep their notes.
 */
export const withReading = (piece: Piece, next: Reading, edits: readonly Edit[]): Piece => {
  if (sameMetre(next.metre, piece.reading.metre)) return { ...piece, reading: next, edits };
  const { motifBars: _, moreMotifs, ...rest } = piece;
  const before = corrected(piece);
  const after = correct(next, edits);
  return {
    ...rest,
    reading: next,
    edits,
    ...(moreMotifs === undefined ? {} : { moreMotifs: moreMotifs.map(cut => recut(cut, before, after)) }),
  };
};

/**
 * The piece read anew under other hints. Corrections by hand stay; where the metre changed under
 * them only pitches and deletions do. The key stays once it was chosen.
 */
export const reread = (piece: Piece, hints: Hints, next: Reading): Piece => {
  const same = sameMetre(next.metre, piece.reading.metre);
  const pinned = new Set((hints.pins ?? []).map(p => p.strike));
  const edits = piece.edits.filter(
    e => (same || e.kind === 'pitch' || e.kind === 'delete') && !(e.kind === 'move' && pinned.has(e.note)),
  );
  const key = piece.keyChosen ? piece.key : suggestedKey(next);
  return { ...withReading(piece, next, edits), hints, key };
};

/** Notes other than the pinned ones that went elsewhere with them. */
export const followers = (before: Piece, after: Piece, pins: readonly Pin[]): readonly number[] => {
  const own = new Set(pins.map(p => p.strike));
  return movedStrikes(corrected(before), corrected(after)).filter(strike => !own.has(strike));
};
