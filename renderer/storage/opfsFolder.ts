import { detailOf, failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import { directoryFolder } from './directoryFolder.ts';

/** The browser's own storage for this app; asks that it be kept when the disk runs short. */
export const opfsFolder = async (): Promise<Result<Folder>> => {
  try {
    const root = await navigator.storage.getDirectory();
    const lasting = await navigator.storage.persist().catch(() => false);
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
