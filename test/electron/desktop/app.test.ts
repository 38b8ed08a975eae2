import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { _electron } from 'playwright/test';
import { expect, it } from 'vitest';
import { buildElectron, buildRenderer } from '../../../electron/cli/build.ts';
import { hasDisplay } from '../../../electron/cli/findBrowser.ts';
import { installedRuntime } from '../../../electron/cli/findRuntime.ts';
import { VERBS } from './verbs.ts';

const project = fileURLToPath(new URL('../../..', import.meta.url));
const runtime = installedRuntime(project);
const why =
  runtime === undefined
    ? 'the Electron runtime is not installed on this machine'
    : hasDisplay()
      ? undefined
      : 'there is no display to open a window on';
if (why !== undefined) console.log(`SKIPPED: the real desktop edition was not run, because ${why}.`);

it.skipIf(why !== undefined)('opens the real desktop edition, shut off from the computer', async () => {
  await buildRenderer(project);
  await buildElectron(project);
  const data = mkdtempSync(join(tmpdir(), 'malletloom-app-'));
  const app = await _electron.launch({
    ...(runtime === undefined ? {} : { executablePath: runtime }),
    args: [project, `--user-data-dir=${data}`, ...(process.getuid?.() === 0 ? ['--no-sandbox'] : [])],
  });
  try {
    const page = await app.firstWindow();
    await page.waitForSelector('#app > *');
    expect(page.url()).toBe('app://malletloom/index.html');
    const seen = await page.evaluate(() =>
      Promise.resolve({
        verbs: Object.keys((globalThis as unknown as { malletloom: object }).malletloom).sort(),
        node: typeof (globalThis as { process?: unknown }).process,
        secure: globalThis.isSecureContext,
      }),
    );
    expect(seen).toEqual({
      verbs: [...VERBS],
      node: 'undefined',
      secure: true,
    });
  } finally {
    await app.close();
    rmSync(data, { recursive: true, force: true });
  }
});
