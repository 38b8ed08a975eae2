import puppeteer, { type ElementHandle, type Page } from 'puppeteer-core';
import { findFirefox } from '../browser.ts';
import { expect, goTo, inWords, knowsTheWay, openDemo, test } from './app.ts';

// The browser edition in the other engine that schools have, as it is installed there: driven by WebDriver BiDi (W3C),
// because Playwright drives only a Firefox of its own making. One journey through the main job; without a
// sound card Firefox gives no sound at all, so what is heard there is not tried here.

const executablePath = findFirefox();
const why = executablePath === undefined ? 'SKIPPED: there is no Firefox on this machine.' : '';
if (why !== '') console.log(why);

/** The first bytes of every file that was handed on, in order. */
interface Watched extends Window {
  handedOn?: { name: string; starts: string; size: number }[];
}
const watchFiles = (): void => {
  const watched = window as Watched;
  const handedOn: { name: string; starts: string; size: number }[] = [];
  watched.handedOn = handedOn;
  const blobs = new Map<string, Blob>();
  const make = URL.createObjectURL.bind(URL);
  URL.createObjectURL = (blob: Blob) => {
    const url = make(blob);
    blobs.set(url, blob);
    return url;
  };
  HTMLAnchorElement.prototype.click = function () {
    const blob = blobs.get(this.href);
    void blob
      ?.slice(0, 5)
      .text()
      .then(starts => handedOn.push({ name: this.download, starts, size: blob.size }));
  };
};

/** Presses the button with these words, on it or as its label. */
const pressNamed = async (page: Page, name: string): Promise<void> => {
  const handle = await page.waitForFunction(
    words =>
      [...document.querySelectorAll('button')].find(
        one =>
          !one.disabled &&
          one.checkVisibility() &&
          (one.getAttribute('aria-label') === words || one.textContent.trim() === words),
      ),
    { timeout: 10_000 },
    name,
  );
  await (handle.asElement() as ElementHandle<HTMLButtonElement>).click();
};
const wordsOf = (page: Page): Promise<string[]> =>
  page.$$eval('.in-words li', lines => lines.map(line => line.textContent));

test('in Firefox an idea is caught, read as elsewhere, grown, kept and handed on; bars are struck by keys', async ({
  app,
  address,
}) => {
  test.skip(executablePath === undefined, why);
  test.setTimeout(120_000);
  await openDemo(app, 'Tin roof');
  const elsewhere = await inWords(app);
  await goTo(app, 'Play');

  const firefox = await puppeteer.launch({
    browser: 'firefox',
    executablePath: executablePath ?? '',
    headless: true,
  });
  try {
    const page = await firefox.newPage();
    await page.setViewport({ width: 1366, height: 768 });
    const wrong: string[] = [];
    page.on('pageerror', error => wrong.push(String(error)));
    page.on('console', message => {
      if (message.type() === 'error') wrong.push(message.text());
    });
    await page.evaluateOnNewDocument(knowsTheWay);
    await page.evaluateOnNewDocument(watchFiles);
    await page.goto(address);

    // The same take is read as it is in the other engine.
    await pressNamed(page, 'Tin roof');
    await expect.poll(() => wordsOf(page)).toEqual(elsewhere);
    await pressNamed(page, 'Use this motif');
    await page
      .locator('.treatment-try')
      .filter(one => one.textContent.includes('Repetition'))
      .click();
    await pressNamed(page, 'Write it in');
    await expect.poll(() => page.$$eval('.bracket', all => all.length)).toBeGreaterThan(1);

    await pressNamed(page, 'Keep a version');
    await page.locator('::-p-aria([name="Kept"][role="button"])').setWaitForEnabled(false).wait();

    const grown = await wordsOf(page);
    await page.reload();
    await expect.poll(() => wordsOf(page)).toEqual(grown);
    await pressNamed(page, 'Keep');
    await pressNamed(page, 'Hand on Tin roof, not yet given');
    await pressNamed(page, 'PDF of Tin roof, not yet given');
    const seen = (): Promise<{ name: string; starts: string; size: number }[]> =>
      page.evaluate(() => (window as Watched).handedOn ?? []);
    await expect.poll(async () => (await seen()).map(file => file.starts)).toEqual(['%PDF-']);
    // Struck on the computer's keys; the beat of real time is what is struck, not what is waited for.
    await pressNamed(page, 'Play');
    for (const key of ['a', 'd', 'g', 'a', 'd', 'g'] as const) await page.keyboard.press(key, { delay: 120 });
    await pressNamed(page, 'Catch that');
    await page.waitForSelector('.system svg');
    await expect.poll(async () => (await wordsOf(page)).join(' ')).toMatch(/C4.*E4.*G4/);
    expect(wrong).toEqual([]);
  } finally {
    await firefox.close();
  }
});
