import { addNote, divideBeat, firstBeat, lengthen, move, raise, remove } from './correct.ts';

/** One thing a teacher can do to the chosen note. */
export interface Correction {
  readonly id: string;
  readonly text: string;
  /** As listed under ?. */
  readonly keys: string;
  readonly needsNote: boolean;
  readonly run: () => void;
}

const correction = (
  id: string,
  text: string,
  keys: string,
  run: () => void,
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
  correction('earlier', 'Earlier', 'Alt+Left', () => {
    move(-1);
  }),
  correction('later', 'Later', 'Alt+Right', () => {
    move(1);
  }),
  correction('shorter', 'Shorter', ',', () => {
    lengthen(-1);
  }),
  correction('longer', 'Longer', '.', () => {
    lengthen(1);
  }),
  correction('higher', 'Higher', 'Alt+Up', () => {
    raise(1);
  }),
  correction('lower', 'Lower', 'Alt+Down', () => {
    raise(-1);
  }),
  correction('rest', 'Rest', 'Backspace', () => {
    remove('rest');
  }),
  correction('delete', 'Delete', 'Delete', () => {
    remove('delete');
  }),
  correction('triplet', 'Triplet here', 'T', divideBeat),
  correction('first', 'First beat here', '1', firstBeat),
  correction('add', 'Add a note', 'Insert', addNote, false),
];
