import { failed, type Failed, ok, type Problem } from '../foundation/result.ts';
import type { Folder } from './folder.ts';

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
    return Promise.resolve(bytes === undefined ? missing(path) : ok(bytes.slice()));
  },
  writeNew: (path, bytes) => {
    const problem = faults.write?.(path);
    if (problem !== undefined) return Promise.resolve(failed(problem));
    if (files.has(path)) return Promise.resolve(taken(path));
    files.set(path, bytes.slice());
    return Promise.resolve(ok(undefined));
  },
  remove: path => {
    files.delete(path);
    return Promise.resolve(ok(undefined));
  },
});

/** Problems every maker of a folder tells in the same words. */
export const missing = (path: string): Failed =>
  failed({
    kind: 'not-found',
    what: `The file ${path} is not there.`,
    kept: 'Nothing was changed.',
    next: 'Check that the folder is whole, for instance that it has finished syncing.',
  });

export const taken = (path: string): Failed =>
  failed({
    kind: 'bad-request',
    what: `There is a file ${path} already.`,
    kept: 'It was left as it is.',
    next: 'Try once more; a new name will be taken.',
  });

export const diskFull = (detail: string): Failed =>
  failed({
    kind: 'disk-full',
    what: 'There is no room left where the class library is.',
    kept: 'Everything kept before is untouched, and the piece is still open here.',
    next: 'Make room there and keep it again, or export the MusicXML file.',
    detail,
  });
