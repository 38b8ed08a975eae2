import { ok } from '../../../core/foundation/result.ts';
import type { Command } from '../command.ts';
import type { LiveState } from '../live.ts';
import { fromSafe } from '../safe.ts';
import { withLive } from '../state.ts';

/** Puts the desk back as it was left; what is of no use changes nothing. @param stored as it was read */
export const restore: Command<[stored: unknown, clockStart: number]> = (desk, stored, clockStart) =>
  ok(fromSafe(desk, stored, clockStart) ?? desk);

/** Whether everything done here is on disk. */
export const setSafe: Command<[safe: LiveState['safe']]> = (desk, safe) => ok(withLive(desk, { safe }));
