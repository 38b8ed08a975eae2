import { detailOf, failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import { directoryFolder } from './directoryFolder.ts';

// File System Access (WICG draft): Chromium only so far, and not in the type library.
type Access = { readonly mode: 'readwrite' };
type Picked = FileSystemDirectoryHandle & {
  readonly queryPermission?: (access: Access) => Promise<PermissionState>;
  readonly requestPermission?: (access: Access) => Promise<PermissionState>;
};
type Picker = { readonly showDirectoryPicker?: (options: object) => Promise<Picked> };
const ACCESS: Access = { mode: 'readwrite' };

/** Whether this browser can let the teacher choose a folder. */
export const canPick = (): boolean => (window as Picker).showDirectoryPicker !== undefined;

const STORE = 'handles';
const KEY = 'library';

const inStore = <T>(mode: IDBTransactionMode, job: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> =>
  new Promise((done, fail) => {
    const opening = indexedDB.open('malletloom', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
    opening.onerror = () => {
      fail(opening.error ?? new Error('no database'));
    };
    opening.onsuccess = () => {
      const database = opening.result;
      const request = job(database.transaction(STORE, mode).objectStore(STORE));
      request.onsuccess = () => {
        done(request.result);
        database.close();
      };
      request.onerror = () => {
        fail(request.error ?? new Error('no answer'));
        database.close();
      };
    };
  });

const folderOf = (handle: Picked): Folder => directoryFolder(handle, `the folder “${handle.name}”`);

/** The folder picked in an earlier session; `allowed` says whether the browser still lends it unasked. */
export const rememberedFolder = async (): Promise<
  { folder: Folder; allowed: boolean; name: string } | undefined
> => {
  try {
    const handle =
      (await inStore('readonly', store => store.get(KEY) as IDBRequest<Picked | undefined>)) ?? undefined;
    if (handle === undefined) return undefined;
    const state = (await handle.queryPermission?.(ACCESS)) ?? 'granted';
    return { folder: folderOf(handle), allowed: state === 'granted', name: handle.name };
  } catch {
    return undefined;
  }
};

/** Asks again for the remembered folder; must run in a press of a button. */
export const allowRemembered = async (): Promise<Result<Folder | undefined>> => {
  try {
    const handle = await inStore('readonly', store => store.get(KEY) as IDBRequest<Picked | undefined>);
    const state = (await handle?.requestPermission?.(ACCESS)) ?? 'denied';
    return ok(handle !== undefined && state === 'granted' ? folderOf(handle) : undefined);
  } catch (thrown) {
    return refused(thrown);
  }
};

/** Lets the teacher choose; undefined when she thought better of it. Must run in a press of a button. */
export const pickFolder = async (): Promise<Result<Folder | undefined>> => {
  try {
    const handle = await (window as Picker).showDirectoryPicker?.({ id: 'library', mode: 'readwrite' });
    if (handle === undefined) return ok(undefined);
    // The choice holds for this session even where the browser will not remember it.
    await inStore('readwrite', store => store.put(handle, KEY)).catch(() => undefined);
    return ok(folderOf(handle));
  } catch (thrown) {
    if (thrown instanceof DOMException && thrown.name === 'AbortError') return ok(undefined);
    return refused(thrown);
  }
};

const refused = (thrown: unknown): Result<never> =>
  failed({
    kind: 'folder-refused',
    what: 'The browser did not lend that folder.',
    kept: 'The class library is where it was.',
    next: 'Choose another folder, for instance a new one in your documents.',
    detail: detailOf(thrown),
  });
