import { equal, less } from '../foundation/fraction.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import { type MalletId, malletWords, unusualMallet } from '../instruments/mallets.ts';
import type { PlacedNote } from '../plan/placed.ts';
import type { ScorePart } from './score.ts';

/** A part's mallets as its score has them, and its notes with the word over the first of them. */
export interface MalletsMarked extends Pick<ScorePart, 'mallet'> {
  readonly notes: readonly PlacedNote[];
}

/**
 * Says over the first note of a part what it is struck with, before what is said there anyway; nothing where that is
 * the usual mallet.
 * @example
 * const notes = [{ onset: ZERO, duration: fraction(1), pitch: spell(key('C'), 72), ref: '', words: 'lightly' }];
 * markMallets('glockenspiel', 'brass', notes).notes[0].words // => 'brass mallets, lightly'
 * markMallets('marimba', 'brass', notes).notes[0].words // => 'lightly'
 */
export const markMallets = (
  instrument: InstrumentId,
  asked: MalletId | undefined,
  notes: readonly PlacedNote[],
): MalletsMarked => {
  const mallet = unusualMallet(instrument, asked);
  const [one] = notes;
  if (mallet === undefined || one === undefined) return { notes };
  const first = notes.reduce((so, { onset }) => (less(onset, so) ? onset : so), one.onset);
  return {
    mallet,
    notes: notes.map(note =>
      equal(note.onset, first)
        ? {
            ...note,
            words: [malletWords(mallet), ...(note.words === undefined ? [] : [note.words])].join(', '),
          }
        : note,
    ),
  };
};

/**
 * The words over a symbol without those that say what its part is struck with.
 * @example
 * wordsBesideMallet('brass', 'brass mallets, lightly') // => 'lightly'
 * wordsBesideMallet('brass', 'brass mallets') // => undefined
 */
export const wordsBesideMallet = (
  mallet: MalletId | undefined,
  words: string | undefined,
): string | undefined => {
  if (mallet === undefined || words === undefined) return words;
  const said = malletWords(mallet);
  return words === said ? undefined : words.startsWith(`${said}, `) ? words.slice(said.length + 2) : words;
};
