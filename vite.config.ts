import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import { buildServiceWorker } from './electron/cli/offlineFiles.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

const { version } = JSON.parse(readFileSync(here('package.json'), 'utf8')) as { readonly version: string };

// One renderer for both editions: plain static files with relative addresses.
export default defineConfig({
  root: here('renderer'),
  base: './',
  // In tests the reader checks every index; here the checks are left out (core/reading/model/at.ts).
  define: { __CHECK_INDICES__: 'false', __VERSION__: JSON.stringify(version) },
  // The demo takes are served as they lie in assets/.
  publicDir: here('assets'),
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [
    {
      name: 'service-worker',
      apply: 'build',
      // Last of all: it lists every file that was written.
      writeBundle: async ({ dir }) => {
        if (dir === undefined) return;
        // Read in a window of the app: without the marks of a formatted text.
        const notices = readFileSync(here('THIRD-PARTY-NOTICES.md'), 'utf8');
        writeFileSync(join(dir, 'notices.txt'), notices.replace(/^(#+ |```.*\n)/gm, '').replaceAll('`', ''));
        await buildServiceWorker(here('.'), dir);
      },
    },
  ],
  build: {
    outDir: here('dist/renderer'),
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    // Sizes are held by `npm run check:size`, each kind of file to its own budget.
    chunkSizeWarningLimit: Infinity,
    rolldownOptions: { input: { index: here('renderer/index.html') } },
  },
});
