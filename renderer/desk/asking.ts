import { effect, untracked } from '@preact/signals';
import type { AskingCommand, Command } from './command.ts';
import { complain } from './commands/messages.ts';
import { offer } from './commands/reading.ts';
import type { Desk } from './desk.ts';
import type { ReaderQueue } from './readerQueue.ts';

/** Runs commands that need the reader, or must not overtake one that does. */
export interface Asking {
  /** Worked out when its turn comes, from the desk as it then is. @returns whether it was done, in the end */
  readonly ask: <Given extends readonly unknown[]>(
    command: AskingCommand<Given>,
    ...given: Given
  ) => Promise<boolean>;
  /** A command that needs no reader, in its turn. */
  readonly afterwards: <Given extends readonly unknown[]>(command: Command<Given>, ...given: Given) => void;
  /** Gives up what is being read. */
  readonly stop: () => void;
  /** Stops following the desk, and the reader. */
  readonly dispose: () => void;
}

export const createAsking = (desk: Desk, queue: ReaderQueue): Asking => {
  // The list beside the page follows the piece, through undo and redo too.
  const unfollow = effect(() => {
    const now = desk.piece.value;
    untracked(() => {
      if (now === undefined) {
        desk.run(offer, []);
        return;
      }
      void queue.readingsOf(now).then(
        found => {
          const { piece } = desk.now().document.history?.present ?? {};
          if (piece?.take === now.take && piece.hints === now.hints) desk.run(offer, found);
        },
        () => undefined,
      );
    });
  });
  return {
    ask: async (command, ...given) => {
      let done = false;
      await queue.inTurn(async () => {
        const asked = command(desk.now(), ...given);
        if (!asked.ok) {
          desk.run(complain, asked.problem);
          return;
        }
        const { value } = asked;
        if (value === undefined) return;
        const answers = [];
        for (const question of value.questions) answers.push(await queue.readingsOf(question));
        done = desk.run(value.then, answers);
      });
      return done;
    },
    afterwards: (command, ...given) => {
      queue.afterReader(() => {
        desk.run(command, ...given);
      });
    },
    stop: queue.stop,
    dispose: () => {
      unfollow();
      queue.dispose();
    },
  };
};
