import { readFileSync } from 'node:fs';
import type { Saved } from '../../core/library/revision.ts';
import { decodeSaved, encodeSaved } from '../../core/library/saved.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { sha256 } from './pieces.ts';

/** A piece as a revision of the library. */
export const stamped = (piece: Piece): Saved => ({
  id: piece.id,
  revision: 'r1',
  parents: ['r0'],
  savedAt: '2026-01-05T09:00:00.000Z',
  piece,
});

/** What opening gives of what saving wrote, or why it was not written. */
export const savedAndOpened = async (piece: Piece): Promise<unknown> => {
  const bytes = await encodeSaved(stamped(piece), sha256);
  return bytes.ok ? decodeSaved(bytes.value, 'test.json', sha256) : bytes;
};

/** The piece of a file that an earlier version wrote, opened today. @throws where it does not open */
export const openedFile = async (version: number, more = ''): Promise<Piece> => {
  const name = `piece-v${String(version)}${more}.json`;
  const bytes = readFileSync(new URL(`../migrations/${name}`, import.meta.url));
  const read = await decodeSaved(new Uint8Array(bytes), name, sha256);
  if (!read.ok) throw new Error(`${read.problem.what} ${read.problem.detail ?? ''}`);
  return read.value.piece;
};
