import { ok, type Problem, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { hostFolder, hostOf } from './hostFolder.ts';
import { opfsFolder } from './opfsFolder.ts';
import { allowRemembered, canPick, pickFolder, rememberedFolder } from './pickedFolder.ts';

/** Where a class library may lie, and how to get there. */
export interface LibraryFinder {
  /** The folder to start with; there always is one, if only until the page is closed. */
  readonly atStart: () => Promise<{
    readonly folder: Folder;
    /** A folder chosen in an earlier session that the browser lends only when asked again. */
    readonly waiting: string | undefined;
    readonly problem: Problem | undefined;
  }>;
  readonly canChoose: () => boolean;
  /** Asks the teacher for a folder; undefined when none was chosen. */
  readonly choose: () => Promise<Result<Folder | undefined>>;
  /** The folder of an earlier session again. */
  readonly openWaiting: () => Promise<Result<Folder | undefined>>;
}

/** What there is where nothing can be stored. */
const untilClosed = (): Folder => ({ ...memoryFolder(), mayBeCleared: true });

/** The desktop's folder, a picked one still allowed, or the browser's own. */
export const libraryFinder: LibraryFinder = {
  atStart: async () => {
    const host = hostOf();
    if (host !== undefined) {
      const where = await host.where();
      return where.ok
        ? { folder: hostFolder(host, where.value), waiting: undefined, problem: undefined }
        : { folder: untilClosed(), waiting: undefined, problem: where.problem };
    }
    const remembered = await rememberedFolder();
    if (remembered?.allowed === true)
      return { folder: remembered.folder, waiting: undefined, problem: undefined };
    const waiting = remembered?.name;
    const own = await opfsFolder();
    return own.ok
      ? { folder: own.value, waiting, problem: undefined }
      : { folder: untilClosed(), waiting, problem: own.problem };
  },
  canChoose: () => hostOf() !== undefined || canPick(),
  choose: async () => {
    const host = hostOf();
    if (host === undefined) return pickFolder();
    const chosen = await host.chooseFolder();
    return chosen.ok ? ok(chosen.value === undefined ? undefined : hostFolder(host, chosen.value)) : chosen;
  },
  openWaiting: () => allowRemembered(),
};
