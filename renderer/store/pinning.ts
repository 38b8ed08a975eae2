import { signal } from '@preact/signals';
import type { Edit } from '../../core/piece/edit.ts';
import { undo } from '../../core/piece/history.ts';
import type { Piece } from '../../core/piece/piece.ts';
import {
  followers,
  movedStrikes,
  type Pin,
  reread,
  successor,
  withoutPins,
  withPins,
  withRepeats,
} from '../../core/piece/rereading.ts';
import type { Hints } from '../../core/reading/reading.ts';
import { followed, notice, piece, work } from './app.ts';
import { edit, step } from './change.ts';
import { inTurn, readingsOf } from './readings.ts';

/** The last correction that the reader followed, while it can still be limited to the notes meant. */
const lastPinned = signal<
  { readonly name: string; readonly after: Piece; readonly pins: readonly Pin[] } | undefined
>(undefined);

/** Whether other notes followed the last correction, and nothing was done since. */
export const canLimit = (): boolean =>
  lastPinned.value !== undefined && lastPinned.value.after === piece.value && followed.value.length > 0;

const followedWords = (count: number): string =>
  count === 0 ? '' : ` ${count === 1 ? 'One other note' : `${String(count)} other notes`} followed.`;

/** Reads anew under hints made from the piece as it then is; goes on with the reading most like the page's. */
const askAgain = (name: string, hintsOf: (now: Piece) => Hints, pins: readonly Pin[]): Promise<void> =>
  inTurn(async () => {
    const before = piece.value;
    if (before === undefined) return;
    const hints = hintsOf(before);
    const [best] = await readingsOf(before.take, before.hints);
    const wasBest = best !== undefined && movedStrikes(best, before.reading).length === 0;
    const next = successor(before.reading, wasBest, await readingsOf(before.take, hints));
    if (next === undefined || piece.value?.take !== before.take) return;
    const current = piece.value;
    step(name, now => reread(now, hints, next));
    const after = piece.value;
    followed.value = followers(current, after, pins);
    lastPinned.value = { name, after, pins };
    notice.value += followedWords(followed.value.length);
  });

/**
 * Puts notes where the teacher wants them and lets the reader follow: neighbours and repeats are read
 * anew around them, in one step that can be undone. Notes the teacher added have no strike to pin and
 * are simply moved.
 */
export const pin = (name: string, pins: readonly Pin[]): Promise<void> => {
  const struck = pins.filter(p => p.strike >= 0);
  if (struck.length === 0) {
    onlyMove(name, pins);
    return Promise.resolve();
  }
  return askAgain(name, now => withPins(now, withRepeats(now.reading, struck)), struck);
};

/** Gives notes back to the reader. */
export const unpin = (name: string, strikes: readonly number[]): Promise<void> =>
  askAgain(name, now => withoutPins(now.hints, strikes), []);

const moves = (pins: readonly Pin[]): readonly Edit[] =>
  pins.map(p => ({ kind: 'move', note: p.strike, onset: p.onset }));

/** Moves notes on the page and nothing else. */
export const onlyMove = (name: string, pins: readonly Pin[]): void => {
  const [first, ...more] = moves(pins);
  if (first === undefined) return;
  if (more.length === 0) edit(name, first);
  else step(name, old => ({ ...old, edits: [...old.edits, first, ...more] }));
};

/** Takes back what followed the last correction: only the notes meant are moved. */
export const limit = (): void => {
  const last = lastPinned.value;
  if (last === undefined || work.value === undefined || last.after !== piece.value) return;
  work.value = undo(work.value);
  lastPinned.value = undefined;
  onlyMove(`${last.name}, only here`, last.pins);
};
