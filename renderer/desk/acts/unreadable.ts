import { detailOf, type Problem } from '../../../core/foundation/result.ts';

/** What is said where the disk does not give a file that was there. */
export const unreadable = (name: string, thrown: unknown): Problem => ({
  kind: 'not-found',
  what: `${name} could not be read from the disk.`,
  kept: 'What is open stays as it is.',
  next: 'Check that the file is still there and try again.',
  detail: detailOf(thrown),
});
