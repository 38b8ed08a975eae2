import type { Problem } from '../foundation/result.ts';

/** Something would begin a bar or more before the first ('out-of-range'). */
export const noBarBefore = (): Problem => ({
  kind: 'out-of-range',
  what: 'It would begin a whole bar or more before bar 1.',
  kept: 'Nothing was changed.',
  next: 'Let it enter at a later bar.',
});

/** A number that makes no sense, and the range of those that do ('out-of-range'). */
export const outOfRange = (range: string): Problem => ({
  kind: 'out-of-range',
  what: 'That number cannot be used here.',
  kept: 'Nothing was changed.',
  next: `Choose ${range}.`,
});
