import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { build } from 'esbuild';

/** The name of the service worker in the built app. */
const WORKER = 'serviceWorker.js';

/** A file of the built app, as its service worker keeps it. */
interface OwnFile {
  readonly url: string;
  readonly revision: string;
}

/** The built app's files, but for maps and the service worker itself. @param folder of the built renderer */
export const ownFiles = (folder: string): readonly OwnFile[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && !entry.name.endsWith('.map') && entry.name !== WORKER)
    .map(entry => {
      const path = join(entry.parentPath, entry.name);
      const sum = createHash('sha256').update(readFileSync(path)).digest('hex');
      return { url: relative(folder, path).split(sep).join('/'), revision: sum.slice(0, 16) };
    })
    .sort((a, b) => (a.url < b.url ? -1 : 1));

/** Builds the service worker that keeps these files. @param project folder of the sources */
export const buildServiceWorker = async (project: string, folder: string): Promise<void> => {
  await build({
    absWorkingDir: project,
    entryPoints: ['renderer/threads/serviceWorker.ts'],
    bundle: true,
    minify: true,
    format: 'iife',
    target: 'es2022',
    define: { __FILES__: JSON.stringify(ownFiles(folder)), 'process.env.NODE_ENV': '"production"' },
    outfile: join(folder, WORKER),
    logLevel: 'error',
  });
};
