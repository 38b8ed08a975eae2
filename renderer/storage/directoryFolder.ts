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

/** Some browsers can rename a file; the type library does not know it yet. */
type Movable = FileSystemFileHandle & { readonly move?: (name: string) => Promise<void> };

const nameOf = (thrown: unknown): string => (thrown instanceof DOMException ? thrown.name : '');

const problemOf = (thrown: unknown, path: string): Failed => {
  const detail = detailOf(thrown);
  switch (nameOf(thrown)) {
    case 'NotFoundError':
      return missing(path);
    case 'TypeMismatchError':
      return notAFile(path);
    case 'QuotaExceededError':
      return diskFull(detail);
    case 'NotAllowedError':
    case 'SecurityError':
      return failed({
        kind: 'folder-refused',
        what: 'The browser does not allow the class library to be used.',
        kept: 'Nothing in it was changed, and the open piece is still here.',
        next: 'Allow it when the browser asks, or choose the folder again in Keep.',
        detail,
      });
    default:
      return unreachable(detail);
  }
};

const goneAlready = (thrown: unknown): undefined => {
  if (nameOf(thrown) !== 'NotFoundError') throw thrown;
};

const exists = async (folder: FileSystemDirectoryHandle, name: string): Promise<boolean> => {
  try {
    await folder.getFileHandle(name);
    return true;
  } catch (thrown) {
    if (nameOf(thrown) === 'NotFoundError') return false;
    throw thrown;
  }
};

const fill = async (file: FileSystemFileHandle, bytes: Uint8Array): Promise<void> => {
  const stream = await file.createWritable({ keepExistingData: false });
  try {
    await stream.write(new Uint8Array(bytes));
  } catch (thrown) {
    await stream.abort().catch(() => undefined);
    throw thrown;
  }
  // What was written appears all at once on close (File System Standard, FileSystemWritableFileStream).
  await stream.close();
};

/** Writes under a temporary name, then renames; where the browser cannot rename, writes in one stroke. */
const write = async (folder: FileSystemDirectoryHandle, name: string, bytes: Uint8Array): Promise<void> => {
  const create = async (as: string): Promise<Movable> => {
    const file: Movable = await folder.getFileHandle(as, { create: true });
    try {
      await fill(file, bytes);
    } catch (thrown) {
      await folder.removeEntry(as).catch(() => undefined);
      throw thrown;
    }
    return file;
  };
  const temporary = `.${name}.part`;
  const file = await create(temporary);
  try {
    if (file.move === undefined) throw new Error('this browser cannot rename');
    await file.move(name);
  } catch {
    await folder.removeEntry(temporary).catch(() => undefined);
    await create(name);
  }
};

const noRoomFor = async (size: number): Promise<boolean> => {
  try {
    const { quota, usage } = await navigator.storage.estimate();
    return quota !== undefined && (usage ?? 0) + size > quota;
  } catch {
    return false;
  }
};

/** A folder over a browser's directory handle: the origin-private one, or one the teacher picked. */
export const directoryFolder = (root: FileSystemDirectoryHandle, where: string): Folder => {
  const inside = async (parts: readonly string[], create = false): Promise<FileSystemDirectoryHandle> => {
    let at = root;
    for (const part of parts) at = await at.getDirectoryHandle(part, { create });
    return at;
  };
  const split = (path: string): { parts: string[]; name: string } => {
    const parts = path.split('/');
    return { name: parts.pop() ?? '', parts };
  };
  const attempt = async <T>(path: string, job: () => Promise<Result<T>>): Promise<Result<T>> => {
    try {
      return await job();
    } catch (thrown) {
      return problemOf(thrown, path);
    }
  };
  return {
    where,
    list: path =>
      attempt(path, async () => {
        const names: string[] = [];
        try {
          const folder = await inside(path.split('/').filter(part => part !== ''));
          for await (const name of folder.keys()) names.push(name);
        } catch (thrown) {
          if (nameOf(thrown) !== 'NotFoundError') throw thrown;
        }
        return ok(names);
      }),
    read: path =>
      attempt(path, async () => {
        const { parts, name } = split(path);
        const file = await (await (await inside(parts)).getFileHandle(name)).getFile();
        return file.size > MOST_BYTES ? tooLargeFile(path) : ok(new Uint8Array(await file.arrayBuffer()));
      }),
    tidy: () =>
      attempt(ITEMS, async () => {
        let removed = 0;
        const items = await inside([ITEMS]).catch(() => undefined);
        for await (const item of items?.values() ?? []) {
          if (item.kind !== 'directory') continue;
          for await (const one of item.values()) {
            if (one.kind !== 'file') continue;
            const file = await one.getFile();
            if (!isLeftover(one.name, file.size, Date.now() - file.lastModified)) continue;
            await item.removeEntry(one.name).then(
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
        const { parts, name } = split(path);
        const folder = await inside(parts).catch(goneAlready);
        await folder?.removeEntry(name).catch(goneAlready);
        return ok(undefined);
      }),
    writeNew: (path, bytes) =>
      attempt(path, async () => {
        const { parts, name } = split(path);
        try {
          const folder = await inside(parts, true);
          if (await exists(folder, name)) return alreadyThere(path);
          await write(folder, name, bytes);
        } catch (thrown) {
          // Chromium does not always name a used-up quota as one; the estimate tells.
          // When the quota ends in mid-write it says only that its pipe broke, and may still estimate room.
          if (/data pipe/i.test(detailOf(thrown)) || (await noRoomFor(bytes.length)))
            return diskFull(detailOf(thrown));
          throw thrown;
        }
        return ok(undefined);
      }),
  };
};
