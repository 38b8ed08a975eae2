import { computed, effect, untracked } from '@preact/signals';
import { piece, place } from './app.ts';
import { leavePreview } from './develop.ts';
import type { Listening } from './hear.ts';
import type { Tapping } from './tapping.ts';

const where = computed(() => `${place.value} ${piece.value?.id ?? ''}`);

/**
 * Whoever goes to another place or opens another piece leaves behind what was under way there: it
 * could not be stopped from elsewhere, strikes in Play would count as taps, and the cursor would run
 * over another page.
 */
export const watchLeaving = (listening: Listening, tapping: Tapping): void => {
  let last = where.peek();
  effect(() => {
    const now = where.value;
    if (now === last) return;
    last = now;
    untracked(() => {
      tapping.leave();
      leavePreview();
      listening.stop();
    });
  });
};
