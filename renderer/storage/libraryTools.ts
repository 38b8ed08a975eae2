import type { LibraryTools } from '../../core/library/library.ts';

/** The SHA-256 of some bytes, in hexadecimal, by the browser. */
export const sha256: LibraryTools['sha256'] = async bytes => {
  const sum = await crypto.subtle.digest('SHA-256', new Uint8Array(bytes));
  return [...new Uint8Array(sum)].map(byte => byte.toString(16).padStart(2, '0')).join('');
};

/** The clock, chance and check sums of this machine. @param newId a sortable, unique name */
export const libraryTools = (newId: () => string): LibraryTools => ({
  now: () => new Date().toISOString(),
  newId,
  sha256,
});
