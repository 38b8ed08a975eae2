import { signal } from '@preact/signals';
import type { Edit } from '../../core/piece/edit.ts';
import { undo } from '../../core/piece/history.ts';
import { corrected, type Piece } from '../../core/piece/piece.ts';
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
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import { followed, notice, piece, work } from './app.ts';
import { edit, step } from './change.ts';
import { afterReader, inTurn, readingsOf } from './readings.ts';

/** The last correction that the reader followed, while it can still be limited to the notes meant. */
const lastPinned = signal<
  { readonly name: string; readonly after: Piece; readonly pins: readonly Pin[] } | undefined
>(undefined);

/** Whether other notes followed the last correction, and nothing was done since. */
export const canLimit = (): boolean =>
  lastPinned.value !== undefined && lastPinned.value.after === piece.value && followed.value.length > 0;

const followedWords = (count: number): string =>
  count === 0 ? '' : ` ${count === 1 ? 'One other note' : `${String(count)} other notes`} followed.`;

/** Reads anew under other hints; goes on with the reading most like the page's. */
const askAgain = async (
  name: string,
  before: Piece,
  hints: Hints,
  pins: readonly Pin[] = [],
): Promise<void> => {
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
};

/** A correction in words, and where it puts notes. */
export interface Pinning {
  readonly name: string;
  readonly pins: readonly Pin[];
}

/**
 * Puts notes where the teacher wants them and lets the reader follow: neighbours and repeats are read
 * anew around them, in one step that can be undone. Notes the teacher added have no strike to pin and
 * are simply moved.
 * @param wanted asked when it is this correction's turn, with the page as it then is
 */
export const pin = (wanted: (now: Piece, page: Reading) => Pinning | undefined): Promise<void> =>
  inTurn(async () => {
    const now = piece.value;
    const asked = now === undefined ? undefined : wanted(now, corrected(now));
    if (now === undefined || asked === undefined) return;
    const struck = asked.pins.filter(p => p.strike >= 0);
    if (struck.length === 0) onlyMove(asked.name, asked.pins);
    else await askAgain(asked.name, now, withPins(now, withRepeats(now.reading, struck)), struck);
  });

/** Gives notes back to the reader. @param wanted as for pin */
export const unpin = (
  wanted: (now: Piece) => { readonly name: string; readonly strikes: readonly number[] } | undefined,
): Promise<void> =>
  inTurn(async () => {
    const now = piece.value;
    const asked = now === undefined ? undefined : wanted(now);
    if (now === undefined || asked === undefined) return;
    await askAgain(asked.name, now, withoutPins(now.hints, asked.strikes));
  });

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
  afterReader(limitNow);
};

const limitNow = (): void => {
  const last = lastPinned.value;
  if (last === undefined || work.value === undefined || last.after !== piece.value) return;
  work.value = undo(work.value);
  lastPinned.value = undefined;
  onlyMove(`${last.name}, only here`, last.pins);
};
