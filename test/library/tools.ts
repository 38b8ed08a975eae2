import { createHash } from 'node:crypto';
import type { LibraryTools } from '../../core/library/library.ts';

export const sha256 = (bytes: Uint8Array): Promise<string> =>
  Promise.resolve(createHash('sha256').update(bytes).digest('hex'));

/** A clock and names that count up, so that a test says the same every time. */
export const countingTools = (start = 0, prefix = 'r'): LibraryTools => {
  let count = start;
  return {
    now: () => new Date(Date.UTC(2026, 0, 5, 9, 0, count)).toISOString(),
    newId: () => `${prefix}${String(++count).padStart(6, '0')}`,
    sha256,
  };
};
