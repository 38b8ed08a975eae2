import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { expect, it } from 'vitest';

const source = fileURLToPath(new URL('../../../electron/desktop/libraryLocation.ts', import.meta.url));

// Linux's /proc answers 'no such folder' to whoever makes one in it: Node's own way of making a folder and those
// above it tries again for ever. In a process of its own, for it would take this one with it.
it.skipIf(process.platform !== 'linux')('documents in which no folder can be are left at once', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'hopeless-'));
  const bundled = join(folder, 'location.mjs');
  await build({ entryPoints: [source], bundle: true, platform: 'node', format: 'esm', outfile: bundled });
  const code = `import { readLocation } from ${JSON.stringify(bundled)};
    console.log(readLocation('/nowhere/place.json', '/proc/none'));`;
  const done = spawnSync(process.execPath, ['--input-type=module', '-e', code], {
    timeout: 20_000,
    encoding: 'utf8',
  });
  rmSync(folder, { recursive: true, force: true });
  expect(done.stdout.trim()).toBe('/proc/none/Malletloom');
  expect(done.status).toBe(0);
});
