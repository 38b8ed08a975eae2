import { equal } from '../../../core/foundation/fraction.ts';
import { sameMetre } from '../../../core/foundation/metre.ts';
import { restyled } from '../../../core/foundation/noteValue.ts';
import { ok } from '../../../core/foundation/result.ts';
import { gracesOn } from '../../../core/piece/graceEdits.ts';
import { corrected, type Piece } from '../../../core/piece/piece.ts';
import { onPage, reread, successor, withHint, withReading } from '../../../core/piece/rereading.ts';
import { pitchesKept } from '../../../core/piece/rhythmOnly.ts';
import type { Hints, Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import type { AskingCommand, Command } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import { withLive } from '../state.ts';
import { nameOf } from './corrections.ts';
import { step } from './step.ts';

/** What the teacher knows goes to the reader at once; corrections made by hand stay where they can. */
export const hint: AskingCommand<[name: string, change: Partial<Hints>]> = (desk, name, change) => {
  const before = desk.document.history?.present.piece;
  return before === undefined ? ok(undefined) : under(before, name, withHint(before, change));
};

/** The piece read anew under other hints. */
const under = (before: Piece, name: string, hints: Hints): ReturnType<AskingCommand> =>
  ok({
    questions: [{ take: before.take, hints }],
    then: (now, [found]) => {
      const best = found?.[0];
      return best === undefined || now.document.history?.present.piece.take !== before.take
        ? ok(now)
        : step(now, name, old => reread(old, hints, best, keyEvidence(now, old.className, old.instrument)));
    },
  });

/** Whether the first barline was told by this note, by one that is struck with it, or by a grace note to either. */
const isTold = (piece: Piece, note: ReadNote): boolean => {
  const told = piece.hints.firstBeatStrike;
  return corrected(piece).notes.some(
    one => equal(one.onset, note.onset) && [one, ...gracesOn(one)].some(stroke => stroke.strike === told),
  );
};

/** Whether to say `firstBeat` of these notes gives the click its first barline back. */
export const givesClickBack = (now: Piece | undefined, strikes: readonly number[]): boolean => {
  if (now?.take.click === undefined || now.hints.free === true) return false;
  const note = corrected(now).notes.find(n => strikes.includes(n.strike));
  return note !== undefined && isTold(now, note);
};

/**
 * The first of these notes falls on the first barline. Said again of the note that does, to a click: the first barline
 * is the click's again, with rests before what is struck first.
 */
export const firstBeat: AskingCommand<[strikes: readonly number[]]> = (desk, strikes) => {
  const now = desk.document.history?.present.piece;
  const note = now === undefined ? undefined : corrected(now).notes.find(n => strikes.includes(n.strike));
  if (now === undefined || note === undefined || note.strike < 0) return ok(undefined);
  // A metre that was chosen by choosing a way to write it stays: the page is the teacher's word.
  const [best] = desk.live.readings;
  const { metre } = now.reading;
  const isChosen = best !== undefined && !sameMetre(best.metre, metre);
  const isToClick = now.take.click !== undefined && now.hints.free !== true;
  if (isToClick && isTold(now, note)) {
    const { firstBeatStrike: _, ...hints } = withHint(now, { pins: [] });
    return under(now, 'first beat as the click has it', hints);
  }
  // The click says so already.
  if (isToClick && note.onset.n === 0 && now.hints.firstBeatStrike === undefined) return ok(undefined);
  // Positions pinned before were counted from the old barline.
  return hint(desk, `first beat on ${nameOf(now, note)}`, {
    pins: [],
    firstBeatStrike: note.strike,
    ...(isChosen ? { metre } : {}),
  });
};

/**
 * Another of the readings; corrections made on the one before are set aside (undo brings them back), pitches given to a
 * rhythm are not.
 * Where the reader was still at work on something else, the reading then most like the chosen one.
 * @param wanted as it was offered
 * @param offered the hints it was offered under
 */
export const chooseReading: AskingCommand<[wanted: Reading, offered: Hints]> = (desk, wanted, offered) => {
  const now = desk.document.history?.present.piece;
  if (now === undefined) return ok(undefined);
  const isStale = now.hints !== offered;
  return ok({
    questions: isStale ? [{ take: now.take, hints: now.hints }] : [],
    then: (later, [found = []]) => {
      const chosen = isStale ? successor(wanted, false, found) : wanted;
      if (chosen === undefined || later.document.history?.present.piece !== now) return ok(later);
      const name = `write it ${restyled(chosen.reason, later.session.nameStyle)}`;
      return step(later, name, old => ({
        ...withReading(old, chosen, pitchesKept(old.edits, chosen)),
        hints: onPage(old.hints, chosen),
      }));
    },
  });
};

/** The readings beside the page. */
export const offer: Command<[readings: readonly Reading[]]> = (desk, readings) =>
  ok(withLive(desk, { readings }));

/** Whether the reader has been at work for long enough to say so. */
export const setBusy: Command<[busy: boolean]> = (desk, readerBusy) => ok(withLive(desk, { readerBusy }));
