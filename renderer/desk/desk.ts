import { signal } from '@preact/signals';
import type { Command } from './command.ts';
import { complain } from './commands/messages.ts';
import { createSeen, type Seen } from './seen.ts';
import { type DeskState, FIRST_DESK } from './state.ts';

/** The one mutable cell of the window: read through its parts, changed by commands alone. */
export interface Desk extends Seen {
  /** The desk as it now is, without listening to it. */
  readonly now: () => DeskState;
  /** Does one command; its problem is shown, and nothing changed then. @returns whether it was done */
  readonly run: <Given extends readonly unknown[]>(command: Command<Given>, ...given: Given) => boolean;
}

export const createDesk = (first: DeskState = FIRST_DESK): Desk => {
  const cell = signal(first);
  return {
    ...createSeen(cell),
    now: () => cell.peek(),
    run: (command, ...given) => {
      const before = cell.peek();
      const done = command(before, ...given);
      cell.value = done.ok ? done.value : complain(before, done.problem).value;
      return done.ok;
    },
  };
};
