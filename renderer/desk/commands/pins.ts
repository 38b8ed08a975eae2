import { equal, type Fraction, fraction, less, negate } from '../../../core/foundation/fraction.ts';
import { spell } from '../../../core/foundation/key.ts';
import { barLength } from '../../../core/foundation/metre.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { ok, type Result } from '../../../core/foundation/result.ts';
import { barAndBeat } from '../../../core/plan/beats.ts';
import type { Edit } from '../../../core/piece/edit.ts';
import {
  beatIsInThree,
  gridUnit,
  nearestGridPosition,
  redivide,
  nextGridPosition,
} from '../../../core/piece/gridPositions.ts';
import { undo } from '../../../core/piece/history.ts';
import { likeFigures } from '../../../core/piece/likeFigures.ts';
import { corrected, type Piece } from '../../../core/piece/piece.ts';
import {
  followers,
  movedStrikes,
  pageAfter,
  type Pin,
  reread,
  withoutPins,
  withPins,
  withRepeats,
} from '../../../core/piece/rereading.ts';
import { strikePositions } from '../../../core/piece/strikePositions.ts';
import type { Hints, Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import type { Ask, AskingCommand, Command } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import type { LastPinned } from '../live.ts';
import { type DeskState, withLive } from '../state.ts';
import { nameOf } from './corrections.ts';
import { areRolledByHand, withStrokes } from './rolls.ts';
import { step } from './step.ts';

/** A correction in words, and where it puts notes. */
interface Pinning {
  readonly name: string;
  readonly pins: readonly Pin[];
}

/** Whether the teacher has put this strike where it is written. */
export const isPinned = (piece: Piece, strike: number): boolean =>
  (piece.hints.pins ?? []).some(p => p.strike === strike);

/** The last correction, where nothing was done since. */
const lastOf = (desk: DeskState): LastPinned | undefined => {
  const { lastPinned } = desk.live;
  return lastPinned?.after === desk.document.history?.present.piece ? lastPinned : undefined;
};

/** Whether other notes followed the last correction, and nothing was done since. */
export const canLimit = (desk: DeskState): boolean =>
  lastOf(desk) !== undefined && desk.live.followed.length > 0;

/** How many notes stand otherwise, of figures like the one last corrected; 0 once something else was done. */
export const likeElsewhere = (desk: DeskState): number => lastOf(desk)?.like.length ?? 0;

const followedWords = (count: number): string =>
  count === 0 ? '' : ` ${count === 1 ? 'One other note' : `${String(count)} other notes`} followed.`;

/** A correction as it was just made: what may be limited to the notes meant, and what like them stands otherwise. */
const lastPinned = (name: string, before: Piece, after: Piece, pins: readonly Pin[]): LastPinned => {
  const page = corrected(after);
  const stands = new Map(page.notes.map(n => [n.strike, n.onset]));
  const pinned = (before.hints.pins ?? []).map(p => p.strike);
  const like = likeFigures(corrected(before), page, pins, pinned).filter(p => {
    const now = stands.get(p.strike);
    return now !== undefined && !equal(now, p.onset);
  });
  return { name, before, after, pins, like };
};

/**
 * Reads anew under other hints; goes on with the reading most like the page's.
 * @param again the last correction, where the step takes its place
 */
const askAgain = (
  name: string,
  before: Piece,
  hints: Hints,
  pins: readonly Pin[] = [],
  again?: LastPinned,
): Ask => ({
  questions: [
    { take: before.take, hints: before.hints },
    { take: before.take, hints },
  ],
  then: (desk, [old = [], found = []]) => {
    const base = again === undefined ? desk : withoutLast(desk, again);
    const current = base?.document.history?.present.piece;
    const [best] = old;
    const wasBest = best !== undefined && movedStrikes(best, before.reading).length === 0;
    const next = pageAfter(before.reading, wasBest, hints, found);
    if (base === undefined || next === undefined || current === undefined || current.take !== before.take)
      return ok(desk);
    const done = step(base, name, now =>
      reread(now, hints, next, keyEvidence(desk, now.className, now.instrument)),
    );
    const after = done.ok ? done.value.document.history?.present.piece : undefined;
    if (!done.ok || after === undefined) return done;
    const followed = followers(current, after, pins);
    return ok(
      withLive(done.value, {
        followed,
        lastPinned: lastPinned(again?.name ?? name, current, after, pins),
        notice: done.value.live.notice + followedWords(followed.length),
      }),
    );
  },
});

/**
 * Puts notes where the teacher wants them and lets the reader follow: neighbours and repeats are read
 * anew around them, in one step that can be undone. Notes the teacher added have no strike to pin and
 * are simply moved, and so are notes she made rolls of.
 */
const pin = (
  desk: DeskState,
  wanted: (now: Piece, page: Reading) => Pinning | undefined,
): Result<Ask | undefined> => {
  const now = desk.document.history?.present.piece;
  const asked = now === undefined ? undefined : wanted(now, corrected(now));
  if (now === undefined || asked === undefined) return ok(undefined);
  const page = corrected(now);
  const struck = withStrokes(
    now,
    page,
    asked.pins.filter(p => p.strike >= 0),
  );
  const ofRolls = areRolledByHand(
    now,
    page,
    struck.map(p => p.strike),
  );
  if (struck.length > 0 && !ofRolls)
    return ok(askAgain(asked.name, now, withPins(now, withRepeats(now.reading, struck)), struck));
  return ok({ questions: [], then: later => onlyMove(later, asked) });
};

/** Moves notes on the page and nothing else. */
const onlyMove = (desk: DeskState, { name, pins }: Pinning): Result<DeskState> => {
  const moves = pins.map((p): Edit => ({ kind: 'move', note: p.strike, onset: p.onset }));
  return moves.length === 0
    ? ok(desk)
    : step(desk, name, old => ({ ...old, edits: [...old.edits, ...moves] }));
};

/** Names several notes at once: "E5", "2 notes". */
const nameAll = (now: Piece, notes: readonly ReadNote[]): string => {
  const [first] = notes;
  return notes.length === 1 && first !== undefined ? nameOf(now, first) : `${String(notes.length)} notes`;
};

/** Where the given strikes go when moved a grid unit; undefined where one would leave the page. */
const movedBy = (
  now: Piece,
  page: Reading,
  strikes: readonly number[],
  direction: 1 | -1,
): Pinning | undefined => {
  const notes = page.notes.filter(n => strikes.includes(n.strike));
  const pins = notes.map(note => ({
    strike: note.strike,
    onset: nextGridPosition(note.onset, gridUnit(now.hints, page, note), direction),
  }));
  const earliest = negate(barLength(page.metre));
  if (pins.length === 0 || pins.some(p => less(p.onset, earliest))) return undefined;
  return { name: `move ${nameAll(now, notes)} ${direction > 0 ? 'later' : 'earlier'}`, pins };
};

/** Moves notes a grid unit; the reader follows. */
export const move: AskingCommand<[strikes: readonly number[], direction: 1 | -1]> = (
  desk,
  strikes,
  direction,
) => pin(desk, (now, page) => movedBy(now, page, strikes, direction));

/** Moves notes a grid unit, and nothing else. */
export const moveOnlyHere: Command<[strikes: readonly number[], direction: 1 | -1]> = (
  desk,
  strikes,
  direction,
) => {
  const now = desk.document.history?.present.piece;
  const asked = now === undefined ? undefined : movedBy(now, corrected(now), strikes, direction);
  return asked === undefined ? ok(desk) : onlyMove(desk, asked);
};

/** Puts one note at a position. @param onset semibreves from the first barline */
export const placeAt: AskingCommand<[note: ReadNote, onset: Fraction]> = (desk, note, onset) =>
  pin(desk, now => ({ name: `move ${nameOf(now, note)}`, pins: [{ strike: note.strike, onset }] }));

/** Writes the beat of the first of these notes as a triplet, or takes the triplet away. */
export const divideBeat: AskingCommand<[strikes: readonly number[]]> = (desk, strikes) =>
  pin(desk, (now, page) => {
    const note = page.notes.find(n => strikes.includes(n.strike));
    if (note === undefined) return undefined;
    const three = !beatIsInThree(page, note.onset);
    const pins = redivide(page, note.onset, three ? 3 : 4, strikePositions(now.take, page));
    return { name: three ? 'triplet here' : 'no triplet here', pins };
  });

/** Every note of the first note's bar stays where it is written, whatever is read anew. */
export const keepBar: AskingCommand<[strikes: readonly number[]]> = (desk, strikes) =>
  pin(desk, (_now, page) => {
    const note = page.notes.find(n => strikes.includes(n.strike));
    if (note === undefined) return undefined;
    const { bar } = barAndBeat(page.metre, note.onset);
    const pins = page.notes
      .filter(n => n.strike >= 0 && barAndBeat(page.metre, n.onset).bar === bar)
      .map(n => ({ strike: n.strike, onset: n.onset }));
    return { name: `keep bar ${String(bar)}`, pins };
  });

/** Writes a strike the reader had left out, where it fell. */
export const writeDropped: AskingCommand<[strike: number]> = (desk, strike) =>
  pin(desk, (now, page) => {
    const position = strikePositions(now.take, page)[strike];
    const pitch = now.take.strikes[strike]?.pitch;
    if (position === undefined || pitch === undefined) return undefined;
    const onset = nearestGridPosition(position, fraction(1, 16));
    return { name: `write ${pitchName(spell(now.key, pitch))}`, pins: [{ strike, onset }] };
  });

/** Gives notes back to the reader, where they were pinned. */
export const letGo: AskingCommand<[strikes: readonly number[]]> = (desk, strikes) => {
  const now = desk.document.history?.present.piece;
  if (now === undefined) return ok(undefined);
  const notes = corrected(now).notes.filter(n => strikes.includes(n.strike) && isPinned(now, n.strike));
  if (notes.length === 0) return ok(undefined);
  const all = withRepeats(now.reading, notes).map(p => p.strike);
  return ok(askAgain(`let ${nameAll(now, notes)} go`, now, withoutPins(now.hints, all)));
};

/** The desk before the last correction, if nothing was done since. */
const withoutLast = (desk: DeskState, last: LastPinned): DeskState | undefined => {
  const { history } = desk.document;
  if (history?.present.piece !== last.after) return undefined;
  return {
    ...withLive(desk, { lastPinned: undefined }),
    document: { ...desk.document, history: undo(history) },
  };
};

/** Takes back what followed the last correction: only the notes meant are moved. */
export const limit: Command = desk => {
  const last = lastOf(desk);
  const before = last === undefined ? undefined : withoutLast(desk, last);
  if (last === undefined || before === undefined) return ok(desk);
  const done = onlyMove(before, { name: `${last.name}, only here`, pins: last.pins });
  const after = done.ok ? done.value.document.history?.present.piece : undefined;
  // It can still be carried everywhere instead.
  return done.ok && after !== undefined
    ? ok(withLive(done.value, { lastPinned: lastPinned(last.name, last.before, after, last.pins) }))
    : done;
};

/** Carries the last correction to the same figure everywhere on the page, in the place of its step. */
export const everywhere: AskingCommand = desk => {
  const last = lastOf(desk);
  if (last === undefined || last.like.length === 0) return ok(undefined);
  const { before, name, pins, after } = last;
  const already = (before.hints.pins ?? []).map(p => p.strike);
  const like = likeFigures(corrected(before), corrected(after), pins, already);
  const own = withRepeats(before.reading, pins);
  const taken = new Set(own.map(p => p.strike));
  const hints = withPins(before, [...own, ...like.filter(p => !taken.has(p.strike))]);
  return ok(askAgain(`${name}, everywhere like this`, before, hints, pins, last));
};
