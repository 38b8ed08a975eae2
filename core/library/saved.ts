import { z } from '../foundation/schema.ts';
import { writable } from '../foundation/key.ts';
import { detailOf, failed, type Failed, ok, type Problem, type Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';
import { asciiBytes, asciiText, canonicalJson } from './canonicalJson.ts';
import type { LibraryTools } from './library.ts';
import { MOST_BYTES, MOST_DEPTH } from './limits.ts';
import { beyondReach, depthOf } from './withinReach.ts';
import type { Saved } from './revision.ts';
import { migrate, VERSION } from './migrations.ts';
import { pieceShape, safeName } from './pieceShape.ts';

const FORMAT = 'malletloom-piece';

const envelope = z.object({
  format: z.literal(FORMAT),
  version: z.int().min(1),
  id: safeName,
  revision: safeName,
  parents: z.array(safeName),
  savedAt: z.string(),
  draft: z.literal(true).exactOptional(),
  away: z.literal(true).exactOptional(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  piece: z.unknown(),
});

type Sha256 = LibraryTools['sha256'];

/**
 * What is wrong, by zod, in one line for developers.
 * @example
 * told({ issues: [{ path: ['piece', 'key'], message: 'no key' }] }) // => 'piece.key: no key'
 */
export const told = (error: {
  readonly issues: readonly Pick<z.core.$ZodIssue, 'path' | 'message'>[];
}): string =>
  error.issues
    .slice(0, 3)
    .map(issue => `${issue.path.join('.')}: ${issue.message}`)
    .join('; ');

/**
 * The bytes of a file for one revision.
 * @returns 'bad-request' when the piece cannot be stored whole; then nothing should be written
 */
export const encodeSaved = async (saved: Saved, sha256: Sha256): Promise<Result<Uint8Array>> => {
  const checked = pieceShape.safeParse(saved.piece);
  if (!checked.success) {
    return failed(unstorable(told(checked.error)));
  }
  const beyond = reachOf(saved.piece);
  if (beyond !== undefined) return failed(unstorable(beyond));
  const { id, revision, parents, savedAt, draft, away, piece } = saved;
  const sum = await sha256(asciiBytes(canonicalJson(piece)));
  const stamp = { savedAt, id, revision, parents, draft, away };
  const file = { format: FORMAT, version: VERSION, ...stamp, sha256: sum, piece };
  return ok(asciiBytes(`${canonicalJson(file)}\n`));
};

/**
 * Reads the bytes of one revision; never throws, whatever the bytes are.
 * @param name the file, as the teacher may find it in the folder
 * @returns 'damaged-file' when it is not whole, 'newer-file' when a later Malletloom wrote it
 */
export const decodeSaved = async (
  bytes: Uint8Array,
  name: string,
  sha256: Sha256,
): Promise<Result<Saved>> => {
  const damaged = (detail: string): Failed => damagedFile(name, detail);
  if (bytes.length > MOST_BYTES) return damaged('larger than any piece');
  const text = asciiText(bytes);
  if (text === undefined) return damaged('bytes beyond ASCII');
  // Deep nesting would exhaust the stack of whatever walks it; it is refused before it is parsed.
  if (depthOf(text) > MOST_DEPTH) return damaged('nested deeper than any piece');
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (thrown) {
    return damaged(detailOf(thrown));
  }
  const newer = z.object({ format: z.literal(FORMAT), version: z.int().min(VERSION + 1) }).safeParse(data);
  if (newer.success) return newerFile(name, newer.data.version);
  const read = envelope.safeParse(data);
  if (!read.success) return damaged(told(read.error));
  const { version, sha256: sum, piece: stored, id, revision, parents, savedAt, draft, away } = read.data;
  if ((await sha256(asciiBytes(canonicalJson(stored)))) !== sum) return damaged('the sum does not match');
  const migrated = migrate(stored, version, damaged);
  if (!migrated.ok) return migrated;
  const piece = pieceShape.safeParse(migrated.value);
  if (!piece.success) return damaged(told(piece.error));
  const beyond = reachOf(piece.data);
  if (beyond !== undefined) return damaged(beyond);
  if (piece.data.id !== id) return damaged('the piece has another id than its file');
  // Before it was known that a page cannot hold them, keys of eight and more signs could be chosen.
  const opened = { ...piece.data, key: writable(piece.data.key) };
  const marks = { ...(draft === undefined ? {} : { draft }), ...(away === undefined ? {} : { away }) };
  return ok({ id, revision, parents, savedAt, ...marks, piece: opened });
};

/** What could not be opened again is not kept: the file would hide the work. */
const unstorable = (detail: string): Problem => ({
  kind: 'bad-request',
  what: 'This piece holds something that cannot be stored.',
  kept: 'It is still open here, and everything kept before is untouched.',
  next: 'Undo the last step and try again, or export the MusicXML file.',
  detail,
});

/** `beyondReach`, where a piece in which even that cannot be told is beyond reach too. */
const reachOf = (piece: Piece): string | undefined => {
  try {
    return beyondReach(piece);
  } catch (thrown) {
    return detailOf(thrown);
  }
};

/**
 * A stored file that cannot be trusted ('damaged-file'); `detail` is for developers.
 * @example
 * damagedFile('r1.json', 'the sum does not match').problem.kind // => 'damaged-file'
 */
export const damagedFile = (name: string, detail: string): Failed =>
  failed({
    kind: 'damaged-file',
    what: `The file ${name} is damaged and was set aside.`,
    kept: 'It was left where it is, and everything else in the class library opened.',
    next: 'If another computer or a backup has this file, copy it from there.',
    detail,
  });

/**
 * A stored file of a later Malletloom ('newer-file').
 * @example
 * newerFile('r1.json', 9).problem.kind // => 'newer-file'
 */
export const newerFile = (name: string, version: number): Failed =>
  failed({
    kind: 'newer-file',
    what: `The file ${name} was made by a newer Malletloom.`,
    kept: 'It was left as it is, and everything else in the class library opened.',
    next: 'Open it with a newer Malletloom.',
    detail: `version ${String(version)}`,
  });
