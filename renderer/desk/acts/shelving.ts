import { effect, untracked } from '@preact/signals';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Desk } from '../desk.ts';
import type { Keeper } from './keeper.ts';

/**
 * Whatever left the desk goes into the register as a draft, one after the other, as soon as there is a
 * class library. What could not be saved stays in the outbox, which is safe on disk, and is tried again
 * when something else leaves or the library is opened anew. @returns a way to stop
 */
export const watchOutbox = (desk: Desk, keeper: Pick<Keeper, 'shelve'>): (() => void) => {
  /** Asked and not answered yet: asked twice, one draft would be two rivals. */
  const underWay = new Set<Piece>();
  return effect(() => {
    const waiting = desk.outbox.value;
    if (desk.library.value.state !== 'open') return;
    untracked(() => {
      for (const piece of waiting) {
        if (underWay.has(piece)) continue;
        underWay.add(piece);
        void keeper.shelve(piece).finally(() => underWay.delete(piece));
      }
    });
  });
};
