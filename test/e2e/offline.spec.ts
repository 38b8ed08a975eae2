import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright/test';
import { buildServiceWorker } from '../../electron/cli/offlineFiles.ts';
import { serve, type Serving } from '../../electron/loopback/server.ts';
import { test as base } from 'playwright/test';
import { installFakeWebMidi } from '../fakes/webMidi.ts';
import { expect, goTo, inWords, keepVersion, moreFiles } from './app.ts';
import { readPdf } from './readPdf.ts';
import { openTake } from './takeFile.ts';

// The browser edition without its server: the app's own files are kept at the first visit.

const project = fileURLToPath(new URL('../..', import.meta.url));
const built = join(project, 'dist', 'renderer');

/** A copy of the built app on a server of its own, that a test may change and stop. */
const test = base.extend<{ site: { folder: string; serving: Serving; url: string } }>({
  site: async ({}, use) => {
    const folder = mkdtempSync(join(tmpdir(), 'malletloom-site-'));
    cpSync(built, folder, { recursive: true });
    const serving = await serve({ root: folder, port: 0 });
    await use({ folder, serving, url: serving.url });
    await serving.close();
  },
});
test.use({ serviceWorkers: 'allow' });

const visit = async (page: Page, url: string): Promise<void> => {
  await page.addInitScript(installFakeWebMidi as () => void);
  await page.goto(url);
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeVisible();
};
const IDEA = {
  bpm: 96,
  click: true,
  strikes: [0, 1, 1.5, 2, 3].map((at, i) => [at, [72, 76, 74, 79, 76][i] ?? 72] as const),
};
const isKept = (page: Page): Promise<boolean> =>
  page.evaluate(async () => (await navigator.serviceWorker.ready).active?.state === 'activated');

test('after the first visit the whole journey works without a server, and what was kept is there', async ({
  page,
  site,
}) => {
  const strangers: string[] = [];
  page.on('request', request => {
    if (!/^(blob|data):/.test(request.url()) && !request.url().startsWith(site.url))
      strangers.push(request.url());
  });
  await visit(page, site.url);
  await expect(page.locator('.just-done')).toContainText('without a network');
  await openTake(page, IDEA);
  await keepVersion(page);
  const written = await inWords(page);
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await site.serving.close();

  await page.goto('about:blank');
  await page.goto(site.url);
  await expect.poll(() => inWords(page)).toEqual(written);
  // What is fetched only when it is wanted: the reader's thread, paper, fonts, the threads of files.
  await goTo(page, 'Play');
  await openTake(page, { ...IDEA, bpm: 120 });
  await keepVersion(page);
  await goTo(page, 'Keep');
  await expect(page.locator('.register tbody th')).toHaveCount(2);
  await moreFiles(page);
  const [pdf] = await Promise.all([
    page.waitForEvent('download'),
    page
      .getByRole('button', { name: /^PDF of / })
      .first()
      .click(),
  ]);
  expect((await readPdf(new Uint8Array(readFileSync(await pdf.path())))).length).toBeGreaterThan(0);
  await page.getByRole('button', { name: /own storage/ }).click();
  const [carried] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Everything in one portable file' }).click(),
  ]);
  expect(carried.suggestedFilename()).toBe('Class-library.malletloom');
  expect(strangers).toEqual([]);
});

/** Whether a window shows the newer copy of the app. */
const isNewer = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.dataset['newer'] === 'yes');

test('a newer app waits until the windows of the old one are closed, and no work is lost', async ({
  context,
  site,
}) => {
  const first = await context.newPage();
  await visit(first, site.url);
  await expect.poll(() => isKept(first)).toBe(true);
  await openTake(first, IDEA);
  const written = await inWords(first);

  const page = join(site.folder, 'index.html');
  writeFileSync(
    page,
    readFileSync(page, 'utf8').replace('<html lang="en-GB">', '<html lang="en-GB" data-newer="yes">'),
  );
  await buildServiceWorker(project, site.folder);

  // Another window finds it, and goes on with the old one beside the first.
  const second = await context.newPage();
  await visit(second, site.url);
  await expect(second.locator('.just-done')).toContainText('A newer Malletloom is here.');
  expect(await isNewer(second)).toBe(false);
  await first.reload();
  expect(await isNewer(first)).toBe(false);
  expect(await inWords(first)).toEqual(written);
  await first.close();
  await second.close();

  const third = await context.newPage();
  await third.goto(site.url);
  await expect.poll(() => isNewer(third)).toBe(true);
  expect(await inWords(third)).toEqual(written);
});

test('the app can be installed: its manifest and icons are what the standard asks for', async ({
  page,
  site,
}) => {
  await visit(page, site.url);
  // W3C, Web Application Manifest: members of the manifest; sizes as the icons have them.
  const found = await page.evaluate(async () => {
    const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
    const manifest = (await (await fetch(link?.href ?? '')).json()) as {
      name: string;
      start_url: string;
      display: string;
      icons: { src: string; sizes: string; purpose?: string }[];
    };
    const icons = await Promise.all(
      manifest.icons.map(async ({ src, sizes, purpose }) => {
        const image = new Image();
        image.src = new URL(src, link?.href).href;
        await image.decode();
        return { sizes, purpose, wide: image.naturalWidth, high: image.naturalHeight };
      }),
    );
    const { name, start_url, display } = manifest;
    return { name, start_url, display, icons };
  });
  expect(found).toMatchObject({ name: 'Malletloom', start_url: './', display: 'standalone' });
  for (const { sizes, wide, high } of found.icons)
    if (sizes !== 'any') expect(`${String(wide)}x${String(high)}`).toBe(sizes);
  expect(found.icons.map(icon => icon.sizes)).toEqual(expect.arrayContaining(['192x192', '512x512', 'any']));
  expect(found.icons.some(icon => icon.purpose === 'maskable')).toBe(true);
  // Chromium's own judgement, where it can be asked.
  const client = await page.context().newCDPSession(page);
  const judged = await client.send('Page.getInstallabilityErrors').catch(() => undefined);
  if (judged !== undefined)
    expect(
      judged.installabilityErrors.map(error => error.errorId).filter(id => id !== 'in-incognito'),
    ).toEqual([]);
});
