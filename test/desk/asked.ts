import { readTake } from '../../core/reading/read.ts';
import type { Hints } from '../../core/reading/model/reading.ts';
import type { Ask, AskingCommand } from '../../renderer/desk/command.ts';
import type { DeskState } from '../../renderer/desk/state.ts';

/** What a command asks the reader; throws the problem where there is one. */
export const askOf = <Given extends readonly unknown[]>(
  desk: DeskState,
  command: AskingCommand<Given>,
  ...given: Given
): Ask | undefined => {
  const asked = command(desk, ...given);
  if (!asked.ok) throw new Error(asked.problem.what);
  return asked.value;
};
/** What the reader is asked last, and the desk after its answer. */
export const asked = <Given extends readonly unknown[]>(
  desk: DeskState,
  command: AskingCommand<Given>,
  ...given: Given
): { desk: DeskState; hints: Hints | undefined } => {
  const ask = askOf(desk, command, ...given);
  if (ask === undefined) return { desk, hints: undefined };
  const done = ask.then(
    desk,
    ask.questions.map(q => readTake(q.take, q.hints)),
  );
  if (!done.ok) throw new Error(done.problem.what);
  return { desk: done.value, hints: ask.questions.at(-1)?.hints };
};
