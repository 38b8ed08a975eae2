import { HOST_NAME, type Host } from '../../core/bridge/host.ts';
import type { Folder } from '../../core/library/folder.ts';

/** What the desktop edition lends; undefined in a browser. */
export const hostOf = (): Host | undefined =>
  (window as unknown as Readonly<Record<string, Host | undefined>>)[HOST_NAME];

/** The desktop edition's folder. @param where as the host named it */
export const hostFolder = (host: Host, where: string): Folder => ({
  where,
  list: path => host.list(path),
  read: path => host.read(path),
  tidy: () => host.tidy(),
  dropDraft: path => host.dropDraft(path),
  writeNew: (path, bytes) => host.writeNew(path, bytes),
});
