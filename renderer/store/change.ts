import { restyled } from '../../core/foundation/noteValue.ts';
import type { Problem, Result } from '../../core/foundation/result.ts';
import type { Edit } from '../../core/piece/edit.ts';
import { record, redo, startHistory, undo } from '../../core/piece/history.ts';
import { newPiece, type Piece } from '../../core/piece/piece.ts';
import { ripples, withRipples } from '../../core/piece/ripple.ts';
import { reread, successor, withReading } from '../../core/piece/rereading.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import {
  followed,
  keptPiece,
  nameStyle,
  notice,
  piece,
  place,
  playSettings,
  preview,
  problem,
  pupil,
  rippled,
  selectedNotes,
  selectedStatement,
  work,
} from './app.ts';
import { newId } from './newId.ts';
import { afterReader, inTurn, readings, readingsOf } from './readings.ts';

/** One undoable step on the piece. */
export const step = (name: string, change: (piece: Piece) => Piece): void => {
  const now = work.value;
  if (now === undefined) return;
  const changed = change(now.present);
  if (changed === now.present) return;
  const next = withRipples(now.present, changed);
  work.value = record(now, name, next);
  const followers = ripples(now.present, changed);
  if (followers.length > 0) rippled.value = [...new Set([...rippled.value, ...followers])];
  else if (now.present.plan !== changed.plan) rippled.value = [];
  problem.value = undefined;
  followed.value = [];
  notice.value = name.charAt(0).toUpperCase() + name.slice(1) + '.';
  if (next !== changed) notice.value += ' What stood in the way in Grow now waits until its part is free.';
};

const travel = (by: typeof undo): void => {
  if (work.value === undefined) return;
  preview.value = undefined;
  followed.value = [];
  rippled.value = [];
  work.value = by(work.value);
};
export const undoStep = (): void => {
  afterReader(() => {
    travel(undo);
  });
};
export const redoStep = (): void => {
  afterReader(() => {
    travel(redo);
  });
};

export const complain = (what: Problem): void => {
  problem.value = what;
};

/** Takes the value of a result, or shows its problem and gives nothing. */
export const valueOr = <T>(result: Result<T>): T | undefined => {
  if (result.ok) return result.value;
  complain(result.problem);
  return undefined;
};

/** Puts a piece on the table. One that lay there and may not have been kept comes back by undo. */
const lay = (name: string, next: Piece): void => {
  const now = work.value;
  work.value = now === undefined ? startHistory(next) : record(now, name, next);
};

/** Starts a piece from a take: reads it, takes the best reading, goes to Write. */
export const startPiece = (take: Take, title: string): Promise<void> =>
  inTurn(async () => {
    const hints: Hints = {};
    const [best] = await readingsOf(take, hints);
    if (best === undefined) {
      complain({
        kind: 'no-notes',
        what: 'There are no strikes in this take.',
        kept: 'What was played before is still remembered.',
        next: 'Play something, then press Catch that.',
      });
      return;
    }
    const made = newPiece(
      {
        id: newId(),
        title,
        codeName: pupil.value.codeName,
        className: pupil.value.className,
        instrument: playSettings.value.instrument,
        take,
        hints,
      },
      best,
    );
    lay(`begin ${title}`, made);
    keptPiece.value = undefined;
    openAt('write');
  });

/** Opens a kept piece where it was left. */
export const openPiece = (saved: Piece): void => {
  lay(`open ${saved.title}`, saved);
  keptPiece.value = saved;
  openAt(saved.plan === undefined ? 'write' : 'grow');
};

const openAt = (where: 'write' | 'grow'): void => {
  selectedNotes.value = [];
  selectedStatement.value = undefined;
  rippled.value = [];
  preview.value = undefined;
  problem.value = undefined;
  notice.value = '';
  place.value = where;
};

/**
 * Another of the readings; corrections made on the one before are set aside (undo brings them back).
 * Where the reader was still at work on something else, the reading then most like the chosen one.
 */
export const chooseReading = (index: number): void => {
  const wanted = readings.value[index];
  const hints = piece.value?.hints;
  if (wanted === undefined) return;
  const choose = (chosen: Reading): void => {
    step(`write it ${restyled(chosen.reason, nameStyle.value)}`, old => withReading(old, chosen, []));
  };
  afterReader(() => {
    const now = piece.value;
    if (now === undefined) return;
    if (now.hints === hints) choose(wanted);
    else
      void inTurn(async () => {
        const like = successor(wanted, false, await readingsOf(now.take, now.hints));
        if (like !== undefined && piece.value === now) choose(like);
      });
  });
};

/** What the teacher knows goes to the reader at once; corrections made by hand stay where they can. */
export const hint = (name: string, change: Partial<Hints>): Promise<void> =>
  inTurn(async () => {
    const old = piece.value;
    if (old === undefined) return;
    const hints: Hints = { ...old.hints, ...change };
    const [best] = await readingsOf(old.take, hints);
    if (best === undefined || piece.value?.take !== old.take) return;
    step(name, now => reread(now, hints, best));
  });

export const edit = (name: string, made: Edit): void => {
  step(name, old => ({ ...old, edits: [...old.edits, made] }));
};
