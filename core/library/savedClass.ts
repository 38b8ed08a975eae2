import { z } from '../foundation/schema.ts';
import { detailOf, failed, type Failed, ok, type Result } from '../foundation/result.ts';
import { asciiBytes, asciiText, canonicalJson } from './canonicalJson.ts';
import { classShape } from './classList.ts';
import { MOST_DEPTH } from './limits.ts';
import { depthOf } from './withinReach.ts';
import type { LibraryTools } from './library.ts';
import { type Migration, migrate } from './migrations.ts';
import { safeName } from './pieceShape.ts';
import type { SavedClass } from './revision.ts';
import { damagedFile, newerFile, told } from './saved.ts';

const FORMAT = 'malletloom-class';

/** The version of a stored class list that this program writes. */
export const CLASS_VERSION = 2;

/**
 * In order, as for pieces (`migrations.ts`): a change of the stored shape adds one here, raises
 * CLASS_VERSION, and leaves a stored file of the old version in test/migrations that must open forever.
 */
export const CLASS_MIGRATIONS: readonly Migration[] = [
  { from: 1, why: 'A class may work in a key.', migrate: list => ({ ok: true, value: list }) },
];

/** Most bytes of a class list: far above 200 pupils and 200 groups. */
const MOST_CLASS_BYTES = 2 * 1024 * 1024;

const envelope = z.object({
  format: z.literal(FORMAT),
  version: z.int().min(1),
  id: safeName,
  revision: safeName,
  parents: z.array(safeName).max(1000),
  savedAt: z.string().max(100),
  away: z.literal(true).exactOptional(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  list: z.unknown(),
});

type Sha256 = LibraryTools['sha256'];

/**
 * The bytes of a file for one revision of a class list.
 * @returns 'bad-request' when the list cannot be stored whole; then nothing should be written
 */
export const encodeClass = async (saved: SavedClass, sha256: Sha256): Promise<Result<Uint8Array>> => {
  const checked = classShape.safeParse(saved.list);
  if (!checked.success) {
    return failed({
      kind: 'bad-request',
      what: 'This class list holds something that cannot be stored.',
      kept: 'The class list is as it was.',
      next: 'Look for an empty name, or one that comes twice.',
      detail: told(checked.error),
    });
  }
  const { id, revision, parents, savedAt, away, list } = saved;
  const sum = await sha256(asciiBytes(canonicalJson(list)));
  const file = {
    format: FORMAT,
    version: CLASS_VERSION,
    savedAt,
    id,
    revision,
    parents,
    away,
    sha256: sum,
    list,
  };
  return ok(asciiBytes(`${canonicalJson(file)}\n`));
};

/**
 * Reads the bytes of one revision of a class list; never throws, whatever the bytes are.
 * @param name the file, as the teacher may find it in the folder
 * @returns 'damaged-file' when it is not whole, 'newer-file' when a later Malletloom wrote it
 */
export const decodeClass = async (
  bytes: Uint8Array,
  name: string,
  sha256: Sha256,
): Promise<Result<SavedClass>> => {
  const damaged = (detail: string): Failed => damagedFile(name, detail);
  if (bytes.length > MOST_CLASS_BYTES) return damaged('larger than any class list');
  const text = asciiText(bytes);
  if (text === undefined) return damaged('bytes beyond ASCII');
  // Deep nesting would exhaust the stack of whatever walks it; it is refused before it is parsed.
  if (depthOf(text) > MOST_DEPTH) return damaged('nested deeper than any class list');
  try {
    const data: unknown = JSON.parse(text);
    const newer = z
      .object({ format: z.literal(FORMAT), version: z.int().min(CLASS_VERSION + 1) })
      .safeParse(data);
    if (newer.success) return newerFile(name, newer.data.version);
    const read = envelope.safeParse(data);
    if (!read.success) return damaged(told(read.error));
    const { version, sha256: sum, list: stored, id, revision, parents, savedAt, away } = read.data;
    if ((await sha256(asciiBytes(canonicalJson(stored)))) !== sum) return damaged('the sum does not match');
    const migrated = migrate(stored, version, damaged, CLASS_MIGRATIONS, CLASS_VERSION);
    if (!migrated.ok) return migrated;
    const list = classShape.safeParse(migrated.value);
    if (!list.success) return damaged(told(list.error));
    if (list.data.id !== id) return damaged('the class list has another id than its file');
    return ok({ id, revision, parents, savedAt, ...(away === undefined ? {} : { away }), list: list.data });
  } catch (thrown) {
    return damaged(detailOf(thrown));
  }
};
