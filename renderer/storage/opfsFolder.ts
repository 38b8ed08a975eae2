import { detailOf, failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import { directoryFolder } from './directoryFolder.ts';

/** Longest wait, in ms, for an answer that a browser may leave to whoever sits there. */
const PATIENCE = 800;

/**
 * Whether the browser keeps its storage when the disk runs short. Some browsers ask the person, who may answer
 * much later or never: nothing waits for that, and until then the storage may be cleared as far as we know.
 */
const lasts = async (storage: StorageManager): Promise<boolean> => {
  const asked = storage.persist().catch(() => false);
  const late = new Promise<undefined>(resolve => setTimeout(resolve, PATIENCE));
  return (await Promise.race([asked, late])) ?? (await storage.persisted().catch(() => false));
};

/** The browser's own storage for this app; asks that it be kept when the disk runs short. */
export const opfsFolder = async (): Promise<Result<Folder>> => {
  try {
    const root = await navigator.storage.getDirectory();
    const lasting = await lasts(navigator.storage);
    const folder = directoryFolder(root, 'this browser’s own storage');
    return ok(lasting ? folder : { ...folder, mayBeCleared: true });
  } catch (thrown) {
    return failed({
      kind: 'folder-refused',
      what: 'This browser lends no storage, so pieces are kept only until this page is closed.',
      kept: 'Everything open here still works.',
      next: 'Leave private browsing, or export the MusicXML file before closing.',
      detail: detailOf(thrown),
    });
  }
};
