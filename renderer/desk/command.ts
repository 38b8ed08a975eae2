import type { Result } from '../../core/foundation/result.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import type { DeskState } from './state.ts';

/** One thing that can be done: the desk before gives the desk after, or a problem and nothing changed. */
export type Command<Arguments extends readonly unknown[] = []> = (
  desk: DeskState,
  ...given: Arguments
) => Result<DeskState>;

/** One question to the reader. */
export interface Question {
  readonly take: Take;
  readonly hints: Hints;
}

/** What a command asks of the reader, and what it does with the answers, in the order asked. */
export interface Ask {
  readonly questions: readonly Question[];
  readonly then: (desk: DeskState, answers: readonly (readonly Reading[])[]) => Result<DeskState>;
}

/** A command that needs the reader; undefined where there is nothing to do. */
export type AskingCommand<Arguments extends readonly unknown[] = []> = (
  desk: DeskState,
  ...given: Arguments
) => Result<Ask | undefined>;
