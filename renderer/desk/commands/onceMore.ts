import { toNumber } from '../../../core/foundation/fraction.ts';
import { barLength, tactus } from '../../../core/foundation/metre.ts';
import { failed, ok, type Problem } from '../../../core/foundation/result.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { reread, withHint } from '../../../core/piece/rereading.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { isSamePlaying, type OnceMore, playedOn, sameIdea } from '../../../core/take/onceMore.ts';
import type { Take } from '../../../core/take/take.ts';
import type { AskingCommand } from '../command.ts';
import { keyEvidence } from '../keyEvidence.ts';
import { withLive, withSession } from '../state.ts';
import { step } from './step.ts';

const KEPT = 'The page is as it was, and what was played is still remembered.';

const NOTHING_THERE: Problem = {
  kind: 'not-found',
  what: 'There is no idea on the desk to play once more.',
  kept: 'What was played is still remembered.',
  next: 'Press Catch that to begin with it.',
};
const ANOTHER: Problem = {
  kind: 'not-found',
  what: 'That was another idea than the one on the page.',
  kept: KEPT,
  next: 'Play the idea again and press Once more, or press Catch that to begin a piece with this one.',
};
const NOTHING_NEW: Problem = {
  kind: 'not-found',
  what: 'The page was read from this very playing.',
  kept: KEPT,
  next: 'Play the idea once more, then press Once more.',
};

/** Seconds after which the idea on a page comes again: its repeat, or a bar where it has none. */
const spanOf = (page: Reading): number => {
  const bar = ((60 / page.tempo) * toNumber(barLength(page.metre))) / toNumber(tactus(page.metre));
  return bar * (page.period ?? 1);
};

const inWords = ({ pairs, missing, added }: OnceMore): string => {
  const apart = missing.length + added.length;
  const agree = `Once more: ${String(pairs.length)} strikes agree, and both are read together.`;
  return apart === 0 ? agree : `${agree} What differs is chosen on the page.`;
};

/**
 * The idea on the desk was played once more: both playings are read together, in one step that can be undone,
 * and what differs between them is chosen. Problems: 'not-found', for another idea too.
 */
export const onceMore: AskingCommand<[other: Take]> = (desk, other) => {
  const now = desk.document.history?.present.piece;
  if (now === undefined) return failed(NOTHING_THERE);
  const { take } = now;
  const again = sameIdea(take.strikes, other.strikes);
  if (again === undefined) return failed(ANOTHER);
  if (isSamePlaying(take.strikes, other.strikes, again)) return failed(NOTHING_NEW);
  const both = playedOn(take, other, again, spanOf(now.reading));
  const hints = withHint(now, {});
  return ok({
    questions: [{ take: both, hints }],
    then: (later, [found]) => {
      const best = found?.[0];
      if (best === undefined || later.document.history?.present.piece.take !== take) return ok(later);
      const read = (old: Piece): Piece =>
        reread({ ...old, take: both }, hints, best, keyEvidence(later, old.className, old.instrument));
      const done = step(later, 'once more', read);
      if (!done.ok) return done;
      const written = new Set(best.notes.map(n => n.strike));
      const differ = [...again.missing, ...again.added.map(j => take.strikes.length + j)];
      const selectedNotes = differ.filter(strike => written.has(strike));
      return ok(
        withSession(withLive(done.value, { notice: inWords(again) }), { view: 'write', selectedNotes }),
      );
    },
  });
};
