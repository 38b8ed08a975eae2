import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { type Browser, chromium, type Page } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serve, type Serving } from '../../electron/loopback/server.ts';
import type { opfsFolder } from '../../renderer/storage/opfsFolder.ts';
import type { directoryFolder } from '../../renderer/storage/directoryFolder.ts';

const found = [process.env['MALLETLOOM_CHROMIUM'], '/usr/bin/chromium', '/usr/bin/google-chrome'].find(
  path => path !== undefined && existsSync(path),
);
if (found === undefined) console.log('SKIPPED: browser storage was not run, because no Chromium was found.');

declare const harness: { opfsFolder: typeof opfsFolder; directoryFolder: typeof directoryFolder };

// The page's own storage, in a real browser, served by our own server with its own policy.
describe.skipIf(found === undefined)('origin-private storage in a real browser', () => {
  let home = '';
  let serving: Serving;
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    home = mkdtempSync(join(tmpdir(), 'malletloom-browser-'));
    writeFileSync(
      join(home, 'index.html'),
      '<!doctype html><script type="module" src="./harness.js"></script>',
    );
    await build({
      entryPoints: ['test/library/browserHarness.ts'],
      bundle: true,
      format: 'esm',
      outfile: join(home, 'harness.js'),
    });
    serving = await serve({ root: home, port: 0 });
    browser = await chromium.launch({ executablePath: found ?? '', args: ['--no-sandbox'] });
    page = await browser.newPage();
    await page.goto(serving.url);
  });
  afterAll(async () => {
    await browser.close();
    await serving.close();
    rmSync(home, { recursive: true, force: true });
  });

  it('opens at once though the browser asks whoever sits there, who does not answer', async () => {
    // Firefox asks before it makes storage last (WHATWG Storage, 'persist()': it may prompt).
    const opened = await page.evaluate(async () => {
      const { storage } = navigator;
      const persist = storage.persist.bind(storage);
      const answers: unknown[] = [];
      for (const answer of [new Promise<boolean>(() => undefined), Promise.resolve(true)]) {
        storage.persist = () => answer;
        storage.persisted = () => Promise.resolve(false);
        const folder = await harness.opfsFolder();
        answers.push(folder.ok && folder.value.mayBeCleared === true);
      }
      storage.persist = persist;
      return answers;
    });
    expect(opened).toEqual([true, false]);
  });

  it('keeps a file through a reload, lists no temporary one, never overwrites', async () => {
    const wrote = await page.evaluate(async () => {
      const folder = await harness.opfsFolder();
      if (!folder.ok) return [folder];
      const write = (text: string) =>
        folder.value.writeNew('items/a/r1.json', new TextEncoder().encode(text));
      return [await write('old'), await write('new')];
    });
    expect(wrote).toMatchObject([{ ok: true }, { ok: false, problem: { kind: 'bad-request' } }]);
    await page.reload();
    const read = await page.evaluate(async () => {
      const folder = await harness.opfsFolder();
      if (!folder.ok) return folder;
      const bytes = await folder.value.read('items/a/r1.json');
      return {
        text: bytes.ok ? new TextDecoder().decode(bytes.value) : bytes.problem.kind,
        names: await folder.value.list('items/a'),
        none: await folder.value.list('items/nothing'),
        missing: await folder.value.read('items/a/r2.json'),
      };
    });
    expect(read).toMatchObject({
      text: 'old',
      names: { ok: true, value: ['r1.json'] },
      none: { ok: true, value: [] },
      missing: { ok: false, problem: { kind: 'not-found' } },
    });
  });

  it('tidies away what a cut-off save left behind, a day later', async () => {
    const tidied = await page.evaluate(async () => {
      const root = await navigator.storage.getDirectory();
      const items = await root.getDirectoryHandle('items', { create: true });
      const a = await items.getDirectoryHandle('a', { create: true });
      for (const name of ['.r9.json.part', 'r8.json', 'notes.txt'])
        await a.getFileHandle(name, { create: true });
      const folder = harness.directoryFolder(root, 'here');
      const now = Date.now;
      const counts = [await folder.tidy()];
      Date.now = () => now() + 25 * 60 * 60 * 1000;
      counts.push(await folder.tidy());
      Date.now = now;
      const names = [];
      for await (const name of a.keys()) names.push(name);
      await a.removeEntry('notes.txt');
      return { counts, names: names.sort() };
    });
    expect(tidied.counts).toEqual([
      { ok: true, value: 0 },
      { ok: true, value: 2 },
    ]);
    expect(tidied.names).toEqual(['notes.txt', 'r1.json']);
  });

  it('says that there is no room, and leaves no half file, when the quota is used up', async () => {
    const cdp = await page.context().newCDPSession(page);
    const origin = new URL(serving.url).origin;
    await cdp.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 100_000 });
    const full = await page.evaluate(async () => {
      const folder = await harness.opfsFolder();
      if (!folder.ok) return folder;
      const result = await folder.value.writeNew('items/b/r1.json', new Uint8Array(4_000_000));
      return { result, names: await folder.value.list('items/b'), old: await folder.value.list('items/a') };
    });
    expect(full, JSON.stringify(full)).toMatchObject({
      result: { ok: false, problem: { kind: 'disk-full' } },
      names: { ok: true, value: [] },
      old: { ok: true, value: ['r1.json'] },
    });
  });
});
