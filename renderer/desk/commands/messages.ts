import { ok, type Problem } from '../../../core/foundation/result.ts';
import type { Command } from '../command.ts';
import { withLive } from '../state.ts';

/** Shows a problem until it is read or something else is done. */
export const complain = ((desk, problem: Problem) => ok(withLive(desk, { problem }))) satisfies Command<
  [problem: Problem]
>;

/** The problem was read. */
export const dismissProblem: Command = desk => ok(withLive(desk, { problem: undefined }));

/** Says quietly what was done. */
export const tell: Command<[notice: string]> = (desk, notice) => ok(withLive(desk, { notice }));
