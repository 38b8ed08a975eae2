import type { Asking } from '../asking.ts';
import { addNote, lengthen, raise, remove, respell } from '../commands/corrections.ts';
import { divideBeat, move } from '../commands/pins.ts';
import { firstBeat } from '../commands/reading.ts';
import { toggleGliss } from '../commands/glissandi.ts';
import { toggleRoll } from '../commands/rolls.ts';
import type { Desk } from '../desk.ts';

/** One thing a teacher can do to the chosen note. */
export interface Correction {
  readonly id: string;
  readonly text: string;
  /** As listed under ?. */
  readonly keys: string;
  readonly needsNote: boolean;
  readonly run: (desk: Desk, asking: Asking) => void;
}

const correction = (
  id: string,
  text: string,
  keys: string,
  run: Correction['run'],
  needsNote = true,
): Correction => ({
  id,
  text,
  keys,
  needsNote,
  run,
});

/** Every correction that has a button, in the order of the buttons. */
export const CORRECTIONS: readonly Correction[] = [
  correction('earlier', 'Earlier', 'Alt+Left', (desk, asking) => {
    void asking.ask(move, desk.selectedNotes.peek(), -1);
  }),
  correction('later', 'Later', 'Alt+Right', (desk, asking) => {
    void asking.ask(move, desk.selectedNotes.peek(), 1);
  }),
  correction('shorter', 'Shorter', ',', desk => {
    desk.run(lengthen, -1);
  }),
  correction('longer', 'Longer', '.', desk => {
    desk.run(lengthen, 1);
  }),
  correction('higher', 'Higher', 'Alt+Up', desk => {
    desk.run(raise, 1);
  }),
  correction('lower', 'Lower', 'Alt+Down', desk => {
    desk.run(raise, -1);
  }),
  correction('respell', 'Respell', 'N', desk => {
    desk.run(respell);
  }),
  correction('rest', 'Rest', 'Backspace', desk => {
    desk.run(remove, 'rest');
  }),
  correction('delete', 'Delete', 'Delete', desk => {
    desk.run(remove, 'delete');
  }),
  correction('triplet', 'Triplet here', 'T', (desk, asking) => {
    void asking.ask(divideBeat, desk.selectedNotes.peek());
  }),
  correction('first', 'First beat here', '1', (desk, asking) => {
    void asking.ask(firstBeat, desk.selectedNotes.peek());
  }),
  correction(
    'add',
    'Add a note',
    'Insert',
    desk => {
      desk.run(addNote);
    },
    false,
  ),
];

/** Said in the words of the chosen note, where there is room: a roll, or its strokes. */
export const ROLL_IT = correction('roll', 'Roll it', 'R', desk => {
  desk.run(toggleRoll, desk.selectedNotes.peek());
});

/** Likewise a line over bars, or its strokes. */
export const GLISS_IT = correction('gliss', 'Glissando', 'S', desk => {
  desk.run(toggleGliss, desk.selectedNotes.peek());
});
