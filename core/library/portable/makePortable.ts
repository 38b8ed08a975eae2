import { zipSync, type Zippable } from 'fflate';
import { failed, ok, type Result } from '../../foundation/result.ts';
import { asciiBytes, canonicalJson } from '../canonicalJson.ts';
import type { LibraryTools } from '../library.ts';
import { MOST_PACKED_FILES, MOST_PORTABLE_BYTES, MOST_UNPACKED_BYTES } from './limits.ts';
import {
  type CarriedFile,
  MANIFEST,
  type Manifest,
  PORTABLE_FORMAT,
  PORTABLE_VERSION,
  type PortableAbout,
} from './manifest.ts';

/** The earliest time a zip archive can give a file (APPNOTE 6.3.9, section 4.4.6): the same files give the same bytes. */
const NO_TIME = new Date(1980, 0, 1);

/**
 * Packs files of a class library into one portable file: a zip archive (PKWARE APPNOTE 6.3.9) with a manifest.
 * @param files under paths of ours, each once
 * @returns 'too-large' where they are more than one portable file may hold
 */
export const makePortable = async (
  files: readonly CarriedFile[],
  { of, madeAt }: PortableAbout,
  sha256: LibraryTools['sha256'],
): Promise<Result<Uint8Array>> => {
  const size = files.reduce((sum, file) => sum + file.bytes.length, 0);
  // The manifest is a file too.
  if (files.length >= MOST_PACKED_FILES || size > MOST_UNPACKED_BYTES) return tooMuch();
  const sorted = [...files].sort((a, b) => (a.path < b.path ? -1 : 1));
  const listed: Manifest['files'] = [];
  for (const file of sorted)
    listed.push({ path: file.path, size: file.bytes.length, sha256: await sha256(file.bytes) });
  const manifest: Manifest = {
    format: PORTABLE_FORMAT,
    version: PORTABLE_VERSION,
    of,
    madeAt,
    files: listed,
  };
  const all: Zippable = { [MANIFEST]: asciiBytes(`${canonicalJson(manifest)}\n`) };
  for (const file of sorted) all[file.path] = file.bytes;
  const bytes = zipSync(all, { mtime: NO_TIME, level: 6 });
  return bytes.length > MOST_PORTABLE_BYTES ? tooMuch() : ok(bytes);
};

const tooMuch = (): Result<never> =>
  failed({
    kind: 'too-large',
    what: 'This is more than one portable file can hold.',
    kept: 'Nothing was made, and everything is as it was.',
    next: 'Make a portable file of each class, or copy the whole folder of the class library.',
  });
