import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { type BuildOptions, build as bundle } from 'esbuild';
import { build as buildWithVite } from 'vite';

/** The newest change among files and all below folders, in milliseconds; 0 where there is nothing. */
const newest = (path: string): number => {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return 0;
  if (!found.isDirectory()) return found.mtimeMs;
  return readdirSync(path).reduce((so, name) => Math.max(so, newest(join(path, name))), found.mtimeMs);
};

const SOURCES = [
  'core',
  'renderer',
  'assets',
  'vite.config.ts',
  'package.json',
  'package-lock.json',
  'THIRD-PARTY-NOTICES.md',
];

/** Builds the renderer into dist/renderer, unless what is there is newer than every source. */
export const buildRenderer = async (project: string): Promise<void> => {
  const built = newest(join(project, 'dist', 'renderer', 'index.html'));
  if (built > Math.max(...SOURCES.map(source => newest(join(project, source))))) return;
  const start = performance.now();
  await buildWithVite({ configFile: join(project, 'vite.config.ts'), logLevel: 'error' });
  console.log(`Built the app in ${((performance.now() - start) / 1000).toFixed(1)} s.`);
};

/** Bundles what runs in Electron into dist/electron. The preload is CommonJS because the sandbox wants it. */
export const buildElectron = async (project: string): Promise<void> => {
  const common = {
    bundle: true,
    platform: 'node',
    target: 'node22',
    external: ['electron'],
    sourcemap: true,
    logLevel: 'error',
    absWorkingDir: project,
  } satisfies BuildOptions;
  await bundle({
    ...common,
    entryPoints: ['electron/desktop/main.ts'],
    format: 'esm',
    outfile: 'dist/electron/main.mjs',
  });
  await bundle({
    ...common,
    entryPoints: ['electron/desktop/preload.ts'],
    format: 'cjs',
    outfile: 'dist/electron/preload.cjs',
  });
};
