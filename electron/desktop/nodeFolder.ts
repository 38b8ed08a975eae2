import { constants } from 'node:fs';
import * as nodeFs from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { detailOf, failed, type Failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import {
  alreadyThere,
  diskFull,
  missing,
  noDraft,
  notAFile,
  tooLargeFile,
  unreachable,
} from '../../core/library/folderProblems.ts';
import { MOST_BYTES } from '../../core/library/limits.ts';
import { isDropped, isLeftover, ITEMS } from '../../core/library/paths.ts';
import { isInside } from '../loopback/staticFiles.ts';

/** What is used of node:fs/promises; handed in so that a test can make a disk fail. */
export type Disk = Pick<
  typeof nodeFs,
  'link' | 'lstat' | 'mkdir' | 'open' | 'readdir' | 'realpath' | 'rename' | 'unlink'
>;

const codeOf = (thrown: unknown): string =>
  thrown instanceof Error && 'code' in thrown && typeof thrown.code === 'string' ? thrown.code : '';

const problemOf = (thrown: unknown, path: string): Failed => {
  const detail = detailOf(thrown);
  switch (codeOf(thrown)) {
    case 'ENOENT':
    case 'ENOTDIR':
      return missing(path);
    case 'EEXIST':
      return alreadyThere(path);
    case 'EISDIR':
      return notAFile(path);
    case 'ENOSPC':
    case 'EDQUOT':
      return diskFull(detail);
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
    case 'EBUSY':
      return failed({
        kind: 'folder-refused',
        what: 'The computer does not allow the class library to be used there.',
        kept: 'Nothing in it was changed, and the open piece is still here.',
        next: 'Try again, or choose another folder in Keep.',
        detail,
      });
    default:
      return unreachable(detail);
  }
};

const outside = (path: string): Failed =>
  failed({
    kind: 'bad-request',
    what: 'That file is not in the class library.',
    kept: 'Nothing was read or changed.',
    next: 'Choose a piece from the class register.',
    detail: path,
  });

/** Pauses before a locked file is tried again, in milliseconds: virus scanners let go within a second. */
const PAUSES = [20, 60, 180, 400];

const patiently = async <T>(job: () => Promise<T>): Promise<T> => {
  for (const pause of PAUSES) {
    try {
      return await job();
    } catch (thrown) {
      if (!['EBUSY', 'EPERM', 'EACCES'].includes(codeOf(thrown))) throw thrown;
      await wait(pause);
    }
  }
  return job();
};

/** Whether a relative path is plain: names with forward slashes between, none of them "..". */
export const isPlainPath = (path: string): boolean =>
  path === '' || path.split('/').every(part => /^[^\\/:\0]+$/.test(part) && part !== '.' && part !== '..');

/** A folder on this computer's disk. Nothing outside `root` is touched, through links neither. */
export const nodeFolder = (root: string, disk: Disk = nodeFs): Folder => {
  /** The real place of a path's folder, with every link followed; undefined when it leads outside. */
  const placeOf = async (path: string, create: boolean): Promise<string | undefined> => {
    if (!isPlainPath(path) || path === '') return undefined;
    const home = await disk.realpath(root);
    const wanted = resolve(home, dirname(path));
    // Folders are made one by one: making them all at once would follow a link before it is checked.
    let at = home;
    for (const part of dirname(path)
      .split('/')
      .filter(name => name !== '.')) {
      at = join(at, part);
      if (create) {
        await disk.mkdir(at).catch((thrown: unknown) => {
          if (codeOf(thrown) !== 'EEXIST') throw thrown;
        });
      }
      if (!isInside(home, await disk.realpath(at))) return undefined;
    }
    return join(await disk.realpath(wanted), basename(path));
  };

  const attempt = async <T>(path: string, job: () => Promise<Result<T>>): Promise<Result<T>> => {
    try {
      return await job();
    } catch (thrown) {
      // What is not there because the whole folder is not is no missing file.
      const isGone = await disk.realpath(root).then(
        () => false,
        () => true,
      );
      return isGone ? unreachable(detailOf(thrown)) : problemOf(thrown, path);
    }
  };

  const isLink = async (path: string): Promise<boolean> => (await disk.lstat(path)).isSymbolicLink();

  /** The bytes of an ordinary file. Opened without waiting: a pipe without a writer would never open. */
  const whole = async (place: string, path: string): Promise<Result<Uint8Array>> => {
    const file = await disk.open(place, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const found = await file.stat();
      if (!found.isFile()) return notAFile(path);
      if (found.size > MOST_BYTES) return tooLargeFile(path);
      return ok(new Uint8Array(await file.readFile()));
    } finally {
      await file.close();
    }
  };

  const flushed = async (path: string, bytes: Uint8Array): Promise<void> => {
    const file = await disk.open(path, 'wx');
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
  };

  /** Puts the new name on the disk too: a power cut could otherwise take it (fsync(2), notes). */
  const flushFolder = async (place: string): Promise<void> => {
    try {
      const folder = await disk.open(place, 'r');
      await folder.sync().finally(() => folder.close());
    } catch {
      // Windows flushes names by itself and lets no folder be opened; some network drives refuse too.
    }
  };

  /** Gives the temporary file its name, unless something has that name already. */
  const settle = async (temporary: string, place: string): Promise<void> => {
    try {
      // A hard link refuses an existing name in one stroke, which a rename does not (POSIX link, rename).
      await patiently(() => disk.link(temporary, place));
      await disk.unlink(temporary).catch(() => undefined);
    } catch (thrown) {
      if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'EACCES'].includes(codeOf(thrown)))
        throw thrown;
      // A disk without hard links (FAT, some network drives): look, then rename.
      const there = await disk.lstat(place).catch(() => undefined);
      if (there !== undefined) throw Object.assign(new Error('it exists'), { code: 'EEXIST' });
      await patiently(() => disk.rename(temporary, place));
    }
  };

  return {
    where: root,
    list: path =>
      attempt(path, async () => {
        if (!isPlainPath(path)) return outside(path);
        const home = await disk.realpath(root);
        try {
          const place = await disk.realpath(resolve(home, path));
          return isInside(home, place) ? ok(await disk.readdir(place)) : outside(path);
        } catch (thrown) {
          // The root itself must be there; a folder in it that is not simply holds nothing.
          if (codeOf(thrown) === 'ENOENT') return ok([]);
          throw thrown;
        }
      }),
    read: path =>
      attempt(path, async () => {
        const place = await placeOf(path, false);
        if (place === undefined || (await isLink(place))) return outside(path);
        return patiently(() => whole(place, path));
      }),
    tidy: () =>
      attempt(ITEMS, async () => {
        const home = join(await disk.realpath(root), ITEMS);
        const items = await disk.readdir(home).catch(() => []);
        let removed = 0;
        for (const item of items) {
          const place = join(home, item);
          if ((await disk.realpath(place).catch(() => '')) !== place) continue;
          for (const file of await disk.readdir(place).catch(() => [])) {
            const found = await disk.lstat(join(place, file)).catch(() => undefined);
            if (found?.isFile() !== true || !isLeftover(file, found.size, Date.now() - found.mtimeMs))
              continue;
            await disk.unlink(join(place, file)).then(
              () => removed++,
              () => undefined,
            );
          }
        }
        return ok(removed);
      }),
    dropDraft: path =>
      attempt(path, async () => {
        if (!isDropped(path)) return noDraft(path);
        try {
          const place = await placeOf(path, false);
          if (place === undefined || (await isLink(place))) return outside(path);
          await patiently(() => disk.unlink(place));
        } catch (thrown) {
          if (codeOf(thrown) !== 'ENOENT') throw thrown;
        }
        return ok(undefined);
      }),
    writeNew: (path, bytes) =>
      attempt(path, async () => {
        const place = await placeOf(path, true);
        if (place === undefined) return outside(path);
        const temporary = join(dirname(place), `.${basename(place)}.${String(process.pid)}.part`);
        try {
          await flushed(temporary, bytes);
          await settle(temporary, place);
          await flushFolder(dirname(place));
        } catch (thrown) {
          await disk.unlink(temporary).catch(() => undefined);
          throw thrown;
        }
        return ok(undefined);
      }),
  };
};
