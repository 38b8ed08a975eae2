import {
  add,
  equal,
  type Fraction,
  remainder,
  subtract,
  times,
  toNumber,
  ZERO,
} from '../foundation/fraction.ts';
import { barLength, sameMetre, tactus } from '../foundation/metre.ts';
import type { KeyEvidence } from '../motif/suggestKey.ts';
import type { Hints, Reading, SeenPage } from '../reading/model/reading.ts';
import { barAndBeat } from '../plan/beats.ts';
import type { Take } from '../take/take.ts';
import { strikeAfterUpbeat } from '../take/upbeatToClick.ts';
import { correct, type Edit } from './edit.ts';
import { type BarRange, cutOfNotes, likelyMotif } from './motifOfReading.ts';
import { secondsAtPosition } from './strikePositions.ts';
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
  // A beat and more off, this playing went astray, not the idea.
  if (Math.abs(toNumber(subtract(pin.onset, note.onset))) >= toNumber(tactus(reading.metre))) return [];
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

/** What the reader is told of the page while notes of it are put elsewhere. */
const seen = (reading: Reading): SeenPage => ({
  metre: reading.metre,
  beats: reading.beats,
  firstBeat: reading.firstBeat,
  ...(reading.swing === undefined ? {} : { swing: reading.swing }),
  ...(reading.period === undefined ? {} : { period: reading.period }),
  positions: reading.notes.flatMap(({ strike, onset }) => (strike < 0 ? [] : [{ strike, onset }])),
});

/**
 * What the reader is told when notes of the page are put elsewhere by hand: the page as it stood before
 * the first of them, and all pins, the new ones in place of older ones on the same strikes. So the order
 * of corrections does not matter, and a correction and its opposite give the page back.
 */
export const withPins = (piece: Pick<Piece, 'take' | 'hints' | 'reading'>, pins: readonly Pin[]): Hints => {
  const moved = new Set(pins.map(p => p.strike));
  const others = (piece.hints.pins ?? []).filter(p => !moved.has(p.strike));
  return { ...piece.hints, page: piece.hints.page ?? seen(piece.reading), pins: [...others, ...pins] };
};

/** Hints without the pins of some strikes; without the page too where no pin is left. */
export const withoutPins = (hints: Hints, strikes: readonly number[]): Hints => {
  const { pins = [], page, ...rest } = hints;
  const left = pins.filter(p => !strikes.includes(p.strike));
  return left.length === 0 ? rest : { ...rest, ...(page === undefined ? {} : { page }), pins: left };
};

/** What the reader is told of a new take: where the first barline is, of a phrase with an upbeat to its click. */
export const firstHints = (take: Take): Pick<Hints, 'firstBeatStrike'> => {
  const strike = strikeAfterUpbeat(take);
  return strike === undefined ? {} : { firstBeatStrike: strike };
};

/** An upbeat was told by the click: where that does not count, neither does what it told, and the other way round. */
const asHeard = (take: Take, before: Hints, after: Hints): Hints => {
  const { firstBeatStrike: told } = firstHints(take);
  const isPinned = (after.pins ?? []).length > 0;
  if (told === undefined || isPinned || (before.free === true) === (after.free === true)) return after;
  const { firstBeatStrike: now, ...rest } = after;
  if (after.free === true) return now === told ? rest : after;
  return { ...rest, firstBeatStrike: now ?? told };
};

/**
 * Hints with something else the teacher knows: the page is then read anew, not kept, unless only lengths
 * change. Where pins stay and there was no click, the page's metre and tempo are told, because the pins
 * were chosen on them.
 */
export const withHint = (piece: Pick<Piece, 'take' | 'hints'>, change: Partial<Hints>): Hints => {
  const { page, ...rest } = piece.hints;
  if (page === undefined) return asHeard(piece.take, piece.hints, { ...rest, ...change });
  if (Object.keys(change).every(name => name === 'letRing')) return { ...piece.hints, ...change };
  const beatOpen = (rest.free === true || piece.take.click === undefined) && (rest.taps ?? []).length < 2;
  const pinned = (change.pins ?? rest.pins ?? []).length > 0;
  const gap = ((page.beats.at(-1) ?? 1) - (page.beats[0] ?? 0)) / (page.beats.length - 1);
  return asHeard(piece.take, piece.hints, {
    ...(beatOpen && pinned ? { metre: page.metre, tempo: 60 / gap } : {}),
    ...rest,
    ...change,
  });
};

/** Hints once the teacher goes on with another of the readings: corrections are then of that page. */
export const onPage = (hints: Hints, reading: Reading): Hints =>
  hints.page === undefined ? hints : { ...hints, page: seen(reading) };

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

/** The page after a question: after a correction by hand the reader's own answer, for it started from this page. */
export const pageAfter = (
  current: Reading,
  wasBest: boolean,
  hints: Hints,
  found: readonly Reading[],
): Reading | undefined => successor(current, wasBest || hints.page !== undefined, found);

/** The same notes as bars of another reading: they may be numbered otherwise there. */
const recut = <Cut extends BarRange>(cut: Cut, before: Reading, after: Reading): Cut => {
  const strikes = before.notes
    .filter(n => {
      const { bar } = barAndBeat(before.metre, n.onset);
      return bar >= cut.from && bar <= cut.to && cut.without?.includes(n.strike) !== true;
    })
    .map(n => n.strike);
  const found = cutOfNotes(after, strikes);
  if (found === undefined) return cut;
  const { without: _, ...kept } = cut;
  const { closed: __, ...range } = found;
  return { ...kept, ...range } as Cut;
};

/** Whether bars of two readings in one metre begin at other moments: bar 1 of one is not bar 1 of the other. */
const isBarredOtherwise = (before: Reading, after: Reading): boolean => {
  const halfBeat = 30 / Math.max(before.tempo, after.tempo);
  return [ZERO, barLength(before.metre)].some(at => {
    const [was, is] = [before, after].map(reading => secondsAtPosition(reading, toNumber(at)));
    return Math.abs((was ?? 0) - (is ?? 0)) > halfBeat;
  });
};

/**
 * The piece with another reading and other edits. Where other bars begin with it, motifs keep their notes; in another
 * metre the motif is the likely one again, and further motifs keep their notes.
 */
export const withReading = (piece: Piece, next: Reading, edits: readonly Edit[]): Piece => {
  const isSame = sameMetre(next.metre, piece.reading.metre);
  if (isSame && !isBarredOtherwise(piece.reading, next)) return { ...piece, reading: next, edits };
  const { motifBars, moreMotifs, ...rest } = piece;
  const before = corrected(piece);
  const after = correct(next, edits);
  const others =
    moreMotifs === undefined ? {} : { moreMotifs: moreMotifs.map(cut => recut(cut, before, after)) };
  if (isSame) {
    const main = motifBars === undefined ? {} : { motifBars: recut(motifBars, before, after) };
    return { ...rest, ...main, ...others, reading: next, edits };
  }
  return {
    ...rest,
    // A plan grown from an idea that was taken so keeps it so.
    ...(piece.plan !== undefined && motifBars?.closed === true ? { motifBars: likelyMotif(after) } : {}),
    reading: next,
    edits,
    ...others,
  };
};

/** Corrections that say nothing of where in a bar a note stands. */
const KEPT_IN_ANOTHER_METRE: ReadonlySet<Edit['kind']> = new Set([
  'pitch',
  'respell',
  'delete',
  'roll',
  'unroll',
  'gliss',
  'ungliss',
  'grace',
  'ungrace',
]);

/**
 * The piece read anew under other hints. Corrections by hand stay; where the metre changed under
 * them only pitches, deletions, rolls and glissandi do. The key stays once it was chosen.
 * @param evidence what else speaks for a key
 */
export const reread = (piece: Piece, hints: Hints, next: Reading, evidence: KeyEvidence = {}): Piece => {
  const same = sameMetre(next.metre, piece.reading.metre);
  const pinned = new Set((hints.pins ?? []).map(p => p.strike));
  const edits = piece.edits.filter(
    e => (same || KEPT_IN_ANOTHER_METRE.has(e.kind)) && !(e.kind === 'move' && pinned.has(e.note)),
  );
  const inUse = piece.plan !== undefined || piece.motifBars !== undefined;
  const key = piece.keyChosen || inUse || hints.page !== undefined ? piece.key : suggestedKey(next, evidence);
  return { ...withReading(piece, next, edits), hints, key };
};

/** Notes other than the pinned ones that went elsewhere with them. */
export const followers = (before: Piece, after: Piece, pins: readonly Pin[]): readonly number[] => {
  const own = new Set(pins.map(p => p.strike));
  return movedStrikes(corrected(before), corrected(after)).filter(strike => !own.has(strike));
};
