import { signal } from '@preact/signals';
import { ok, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import type { Library, LibraryTools } from '../../core/library/library.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { complain } from '../store/change.ts';
import { useLibrary } from '../store/keeping.ts';
import { newId } from '../store/newId.ts';
import { hostFolder, hostOf } from './hostFolder.ts';
import { opfsFolder } from './opfsFolder.ts';
import { allowRemembered, canPick, pickFolder, rememberedFolder } from './pickedFolder.ts';

const tools: LibraryTools = {
  now: () => new Date().toISOString(),
  newId,
  sha256: async bytes => {
    const sum = await crypto.subtle.digest('SHA-256', new Uint8Array(bytes));
    return [...new Uint8Array(sum)].map(byte => byte.toString(16).padStart(2, '0')).join('');
  },
};

/** A folder chosen in an earlier session that the browser lends only when asked again. */
export const waitingFolder = signal<string | undefined>(undefined);

export const canChooseFolder = (): boolean => hostOf() !== undefined || canPick();

const take = (folder: Folder): Promise<void> => {
  const library: Library = openLibrary(folder, tools);
  return useLibrary(library);
};

/** The folder to start with: the desktop's, a picked one still allowed, or the browser's own. */
const startFolder = async (): Promise<Folder> => {
  const host = hostOf();
  if (host !== undefined) {
    const where = await host.where();
    if (where.ok) return hostFolder(host, where.value);
    complain(where.problem);
    return memoryFolder();
  }
  const remembered = await rememberedFolder();
  if (remembered?.allowed === true) return remembered.folder;
  waitingFolder.value = remembered?.name;
  const own = await opfsFolder();
  if (own.ok) return own.value;
  complain(own.problem);
  return memoryFolder();
};

/** Opens a class library at start; there always is one, if only until the page is closed. */
export const openAtStart = async (): Promise<void> => {
  await take(await startFolder());
};

const takeChosen = async (chosen: Result<Folder | undefined>): Promise<void> => {
  if (!chosen.ok) {
    complain(chosen.problem);
    return;
  }
  if (chosen.value === undefined) return;
  waitingFolder.value = undefined;
  await take(chosen.value);
};

/** The teacher chooses a folder for the class library. What is kept elsewhere stays there. */
export const chooseFolder = async (): Promise<void> => {
  const host = hostOf();
  if (host === undefined) {
    await takeChosen(await pickFolder());
    return;
  }
  const chosen = await host.chooseFolder();
  await takeChosen(
    chosen.ok ? ok(chosen.value === undefined ? undefined : hostFolder(host, chosen.value)) : chosen,
  );
};

/** Opens the folder of an earlier session again. */
export const openWaiting = async (): Promise<void> => {
  await takeChosen(await allowRemembered());
};
