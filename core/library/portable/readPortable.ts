import { strFromU8, unzipSync, type UnzipFileInfo } from 'fflate';
import { detailOf, failed, type Failed, ok, type Problem, type Result } from '../../foundation/result.ts';
import type { LibraryTools } from '../library.ts';
import { MOST_BYTES, MOST_DEPTH } from '../limits.ts';
import { isWritten } from '../paths.ts';
import { told } from '../saved.ts';
import { depthOf } from '../withinReach.ts';
import { MOST_PACKED_FILES, MOST_PORTABLE_BYTES, MOST_UNPACKED_BYTES } from './limits.ts';
import {
  type CarriedFile,
  MANIFEST,
  type Manifest,
  manifestShape,
  PORTABLE_FORMAT,
  PORTABLE_VERSION,
  type PortableAbout,
} from './manifest.ts';

/** What a portable file carries. */
export interface Portable extends PortableAbout {
  /** The files that are whole. */
  readonly files: readonly CarriedFile[];
  /** What is not, each in a sentence; the rest comes in all the same. */
  readonly refused: readonly Problem[];
}

/**
 * Reads a portable file; never throws, whatever the bytes are. An archive that says it unpacks to more than
 * a class library can hold is refused before it is unpacked.
 * @param name the file, as the teacher knows it
 * @returns 'too-large', 'damaged-file' (not a portable file, or spoilt), 'newer-file' when a later Malletloom made it
 */
export const readPortable = async (
  bytes: Uint8Array,
  name: string,
  sha256: LibraryTools['sha256'],
): Promise<Result<Portable>> => {
  if (bytes.length > MOST_PORTABLE_BYTES) return tooLarge(name);
  const unpacked = unpack(bytes, name);
  if (!unpacked.ok) return unpacked;
  const manifest = manifestOf(unpacked.value, name);
  if (!manifest.ok) return manifest;
  const { of, madeAt, files: listed } = manifest.value;
  const files: CarriedFile[] = [];
  const refused: Problem[] = [];
  const seen = new Set<string>();
  for (const { path, size, sha256: sum } of listed) {
    const inside = unpacked.value[path];
    const isWhole =
      !seen.has(path) &&
      inside?.length === size &&
      // A header may promise fewer bytes than it holds: what was cut has another sum.
      (await sha256(inside)) === sum;
    seen.add(path);
    if (isWhole) files.push({ path, bytes: inside });
    else refused.push(notWhole(path, name));
  }
  return ok({ of, madeAt, files, refused });
};

/** Thrown to end the unpacking of what promises too much. */
class TooMuch extends Error {}

/** The archive's files that may be ours. What has another name is not even unpacked. */
const unpack = (bytes: Uint8Array, name: string): Result<Readonly<Record<string, Uint8Array>>> => {
  let count = 0;
  let packed = 0;
  let unpacked = 0;
  const mayBeOurs = (file: UnzipFileInfo): boolean => {
    count += 1;
    packed += file.size;
    unpacked += file.originalSize;
    // Files that lie over each other (every one the same bytes of the archive) come to more than the archive.
    const isTooMuch =
      count > MOST_PACKED_FILES || packed > bytes.length || unpacked > MOST_UNPACKED_BYTES + MOST_BYTES;
    if (isTooMuch) throw new TooMuch();
    return (file.name === MANIFEST || isWritten(file.name)) && file.originalSize <= MOST_BYTES;
  };
  try {
    return ok(unzipSync(bytes, { filter: mayBeOurs }));
  } catch (thrown) {
    return thrown instanceof TooMuch ? tooLarge(name) : notOurs(name, detailOf(thrown));
  }
};

const manifestOf = (files: Readonly<Record<string, Uint8Array>>, name: string): Result<Manifest> => {
  const bytes = files[MANIFEST];
  if (bytes === undefined) return notOurs(name, 'no manifest');
  const text = strFromU8(bytes);
  if (depthOf(text) > MOST_DEPTH) return notOurs(name, 'a manifest nested too deep');
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (thrown) {
    return notOurs(name, detailOf(thrown));
  }
  const read = manifestShape.safeParse(data);
  const version: unknown = (data as { readonly version?: unknown } | null)?.version;
  const format: unknown = (data as { readonly format?: unknown } | null)?.format;
  if (format === PORTABLE_FORMAT && typeof version === 'number' && version > PORTABLE_VERSION)
    return newer(name);
  return read.success ? ok(read.data) : notOurs(name, told(read.error));
};

const KEPT = 'It was left as it is, and so was everything here.';

const tooLarge = (name: string): Failed =>
  failed({
    kind: 'too-large',
    what: `${name} would unpack to more than a class library can hold.`,
    kept: KEPT,
    next: 'Make a portable file of each class where it comes from.',
  });

const notOurs = (name: string, detail: string): Failed =>
  failed({
    kind: 'damaged-file',
    what: `${name} is no portable file of Malletloom, or it is damaged.`,
    kept: KEPT,
    next: 'Make the portable file again where it comes from, and copy it once more.',
    detail,
  });

const newer = (name: string): Failed =>
  failed({
    kind: 'newer-file',
    what: `${name} was made by a newer Malletloom.`,
    kept: KEPT,
    next: 'Open it with a newer Malletloom.',
  });

const notWhole = (path: string, name: string): Problem => ({
  kind: 'damaged-file',
  what: `${path} in ${name} is damaged and was left out.`,
  kept: 'Everything else in it came in.',
  next: 'Make the portable file again where it comes from, if something is missing here.',
});
