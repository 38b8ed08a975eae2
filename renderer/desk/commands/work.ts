import { ok } from '../../../core/foundation/result.ts';
import type { Command } from '../command.ts';
import type { LiveState } from '../live.ts';
import { withLive } from '../state.ts';

/** How far long work is; undefined when it has ended. */
export const setWork: Command<[work: LiveState['work']]> = (desk, work) => ok(withLive(desk, { work }));
