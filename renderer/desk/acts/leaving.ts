import { computed, effect, untracked } from '@preact/signals';
import { leavePitching } from '../commands/pitching.ts';
import { leaveTrial } from '../commands/trial.ts';
import type { Desk } from '../desk.ts';
import type { Listening } from './listening.ts';
import type { Tapping } from './tapping.ts';

/**
 * Whoever goes to another view or opens another piece leaves behind what was under way there: it
 * could not be stopped from elsewhere, strikes in Play would count as taps, and the cursor would run
 * over another page. @returns a way to stop watching
 */
export const watchLeaving = (desk: Desk, listening: Listening, tapping: Tapping): (() => void) => {
  const where = computed(() => `${desk.view.value} ${desk.piece.value?.id ?? ''}`);
  let last = where.peek();
  return effect(() => {
    const now = where.value;
    if (now === last) return;
    last = now;
    untracked(() => {
      tapping.leave();
      desk.run(leavePitching);
      desk.run(leaveTrial);
      listening.stop();
    });
  });
};
