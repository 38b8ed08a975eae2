import { failed, ok } from '../../../core/foundation/result.ts';
import type { PieceFacts } from '../../../core/library/facts.ts';
import { FEWEST_STEPS, isFlat, type LikeBy } from '../../../core/library/likeness.ts';
import { type Outline, outlineOfStrikes } from '../../../core/library/outline.ts';
import { pieceInWords } from '../../../core/piece/pupil.ts';
import type { Command } from '../command.ts';
import { type DeskState, withLive } from '../state.ts';
import { caught } from './playing.ts';

const askFor = (desk: DeskState, of: string, outline: Outline) =>
  outline.gaps.length < FEWEST_STEPS
    ? failed({
        kind: 'no-notes',
        what: `${of} has fewer than ${String(FEWEST_STEPS + 1)} notes after each other, and is like too many others.`,
        kept: 'The register is shown as before.',
        next: 'Choose a longer idea, or strike one.',
      })
    : ok(
        withLive(desk, {
          alike: { of, outline, by: isFlat(outline) ? 'rhythm' : (desk.live.alike?.by ?? 'both') },
        }),
      );

/** Shows only pieces whose idea is like that of this one. */
export const findLikePiece: Command<[facts: PieceFacts]> = (desk, facts) =>
  askFor(desk, pieceInWords(facts), facts.outline);

/** Shows only pieces whose idea is like what a catch would keep now. @param now as inputNow gives it */
export const findLikeStruck: Command<[now: number]> = (desk, now) =>
  askFor(desk, 'What was just struck', outlineOfStrikes(caught(desk, now).flatMap(phrase => phrase.strikes)));

/** By what they are to be alike. */
export const findLikeBy: Command<[by: LikeBy]> = (desk, by) =>
  ok(desk.live.alike === undefined ? desk : withLive(desk, { alike: { ...desk.live.alike, by } }));

/** Shows every piece again. */
export const leaveAlike: Command = desk => ok(withLive(desk, { alike: undefined }));
