import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { _electron } from 'playwright/test';
import { expect, it } from 'vitest';
import { buildElectron, buildRenderer } from '../../../electron/cli/build.ts';
import { installedRuntime } from '../../../electron/cli/findRuntime.ts';
import { VERBS } from './verbs.ts';
import { whyNotReal } from './whyNotReal.ts';

const project = fileURLToPath(new URL('../../..', import.meta.url));
const runtime = installedRuntime(project);
const why = whyNotReal(project);
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

it('says why it was not run', () => {
  expect(whyNotReal(project, { runtime: undefined, hasDisplay: true })).toMatch(/runtime is not installed/);
  expect(whyNotReal(project, { runtime: '/electron', hasDisplay: false })).toMatch(/no display/);
  expect(whyNotReal(project, { runtime: '/electron', hasDisplay: true })).toBeUndefined();
});
