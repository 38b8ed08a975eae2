import { failed, ok, type Problem } from '../foundation/result.ts';
import type { Folder } from './folder.ts';
import { alreadyThere, missing, noDraft, tooLargeFile } from './folderProblems.ts';
import { MOST_BYTES } from './limits.ts';
import { isDropped } from './paths.ts';

/** A disk that misbehaves: a problem given back stops the verb before it changes anything. */
export interface Faults {
  readonly write?: (path: string) => Problem | undefined;
  readonly read?: (path: string) => Problem | undefined;
}

/**
 * A folder that is only a map: for tests and benchmarks, and for a browser that lends no storage.
 * @param files the map itself, for a test to look into or to damage
 */
export const memoryFolder = (
  files = new Map<string, Uint8Array>(),
  where = 'memory, until this page is closed',
  faults: Faults = {},
): Folder => ({
  where,
  list: path => {
    const inside = `${path}/`;
    const names = [...files.keys()]
      .filter(file => file.startsWith(inside))
      .map(file => file.slice(inside.length).split('/')[0] ?? '');
    return Promise.resolve(ok([...new Set(names)]));
  },
  read: path => {
    const problem = faults.read?.(path);
    if (problem !== undefined) return Promise.resolve(failed(problem));
    const bytes = files.get(path);
    if (bytes === undefined) return Promise.resolve(missing(path));
    return Promise.resolve(bytes.length > MOST_BYTES ? tooLargeFile(path) : ok(bytes.slice()));
  },
  // A map is written in one stroke: nothing is ever left over.
  tidy: () => Promise.resolve(ok(0)),
  dropDraft: path => {
    if (!isDropped(path)) return Promise.resolve(noDraft(path));
    files.delete(path);
    return Promise.resolve(ok(undefined));
  },
  writeNew: (path, bytes) => {
    const problem = faults.write?.(path);
    if (problem !== undefined) return Promise.resolve(failed(problem));
    if (files.has(path)) return Promise.resolve(alreadyThere(path));
    files.set(path, bytes.slice());
    return Promise.resolve(ok(undefined));
  },
});
