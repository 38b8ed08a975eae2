import type { Under } from '../../page/under.ts';

/** What may stand under the notes, as a teacher chooses it. */
export const UNDER_CHOICES: readonly { readonly value: string; readonly text: string }[] = [
  { value: '', text: 'nothing' },
  { value: 'letters', text: 'letter names' },
  { value: 'counts', text: 'counts' },
  { value: 'syllables', text: 'rhythm syllables' },
  { value: 'letters,counts', text: 'letter names and counts' },
  { value: 'letters,syllables', text: 'letter names and rhythm syllables' },
];

/** The rows of a choice. */
export const rowsOf = (value: string): readonly Under[] =>
  value === '' ? [] : (value.split(',') as Under[]);
