import { existsSync, mkdirSync, readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from '../../core/foundation/schema.ts';

const settings = z.object({ libraryFolder: z.string().min(1) });

/**
 * Makes a folder and those above it, one by one: asked to make all at once, Node never comes back where the
 * file system says of a folder that it cannot be there (Linux's /proc does, and so may a mounted drive).
 */
const makeFolder = (path: string): void => {
  if (existsSync(path)) return;
  const above = dirname(path);
  if (above !== path) makeFolder(above);
  mkdirSync(path);
};

/** Where the class library was put; else a folder of its own among the documents, made when absent. */
export const readLocation = (settingsFile: string, documents: string): string => {
  try {
    const { libraryFolder } = settings.parse(JSON.parse(readFileSync(settingsFile, 'utf8')));
    // A drive that is unplugged today keeps its place: its library must not be begun anew elsewhere.
    return libraryFolder;
  } catch {
    const usual = join(documents, 'Malletloom');
    try {
      makeFolder(usual);
    } catch {
      // Documents may be on a drive that is away, or not ours to write in. The window opens all the same
      // and says that the library cannot be reached; another folder can be chosen there.
    }
    return usual;
  }
};

/** Remembers another place. @returns false when it is no folder or could not be remembered */
export const writeLocation = (settingsFile: string, folder: string): boolean => {
  try {
    if (!statSync(folder).isDirectory()) return false;
    // In one stroke: half a note would send the next start to another library.
    writeFileSync(`${settingsFile}.part`, JSON.stringify({ libraryFolder: folder }));
    renameSync(`${settingsFile}.part`, settingsFile);
    return true;
  } catch {
    return false;
  }
};
