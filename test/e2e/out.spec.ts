import { readFileSync } from 'node:fs';
import type { Page } from 'playwright/test';
import { choosePupil, expect, goTo, keepCard, moreFiles, test } from './app.ts';
import { readPdf } from './readPdf.ts';
import { openTake, type Struck } from './takeFile.ts';

const IDEA: readonly Struck[] = [
  [0, 72],
  [0.5, 76],
  [1.5, 79],
  [2.5, 78],
  [3, 74],
];

/** A piece of two parts in Keep, made as a pupil makes it. */
const pieceInKeep = async (page: Page, second = 'marimba'): Promise<void> => {
  await choosePupil(page, 'Heron');
  await openTake(page, { bpm: 90, click: true, strikes: IDEA });
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await page
    .getByRole('button', { name: /^the motif/ })
    .first()
    .click();
  await page.getByLabel(/^Write it into/).selectOption({ label: `a new ${second}` });
  await keepCard(page, 'Canon');
  await goTo(page, 'Keep');
};

const handedOn = async (page: Page, name: RegExp): Promise<{ name: string; bytes: Buffer }> => {
  await moreFiles(page);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name }).first().click(),
  ]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
};

/** Height and width in pixels, and pixels a metre, as a PNG says them (PNG specification, IHDR and pHYs). */
const pngSays = (bytes: Buffer): { width: number; height: number; perMetre: number } => {
  const at = bytes.indexOf('pHYs');
  return {
    width: bytes.readUInt32BE(16),
    height: bytes.readUInt32BE(20),
    perMetre: bytes.readUInt32BE(at + 4),
  };
};

/** Draws a file as a picture in the page; its size, and the share of its pixels that are dark. */
const shownAsPicture = async (
  page: Page,
  bytes: Buffer,
  type: string,
): Promise<{ width: number; height: number; ink: number }> =>
  page.evaluate(
    async ([data, media]) => {
      const image = new Image();
      image.src = `data:${media};base64,${data}`;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = image.naturalWidth;
      canvas.height = image.naturalHeight;
      const context = canvas.getContext('2d');
      if (context === null) throw new Error('no canvas');
      context.fillStyle = '#fff';
      context.fillRect(0, 0, canvas.width, canvas.height);
      context.drawImage(image, 0, 0);
      const pixels = context.getImageData(0, 0, canvas.width, canvas.height).data;
      let dark = 0;
      for (let i = 0; i < pixels.length; i += 4) if ((pixels[i] ?? 255) < 128) dark += 1;
      return { width: canvas.width, height: canvas.height, ink: (dark * 4) / pixels.length };
    },
    [bytes.toString('base64'), type] as const,
  );

test('a PDF score and PDF parts are made without a print dialogue, at the chosen stave height', async ({
  app: page,
}) => {
  const asked: string[] = [];
  page.on('request', request => asked.push(request.url()));
  await page.evaluate(() => {
    window.print = () => {
      throw new Error('the print dialogue was opened');
    };
  });
  await pieceInKeep(page);
  // The app starts without the PDF writer and its fonts.
  expect(asked.filter(url => /makePdf|bravura/.test(url))).toEqual([]);

  const usual = await handedOn(page, /^PDF of Idea/);
  expect(usual.name).toBe('Heron-Idea.pdf');
  const [first] = await readPdf(usual.bytes);
  expect(first?.text).toContain('composed by Heron');
  expect(first?.text).toContain('Marimba');
  expect(first?.text).toContain('canon, one beat later, three times');
  expect(first?.images).toBe(0);
  expect(asked.some(url => /bravura/.test(url))).toBe(true);
  expect(first?.text.join(' ')).not.toContain('C E');

  await page.getByLabel(/^Stave height: /).selectOption('14');
  await page.getByLabel(/^Under the notes: /).selectOption('letters');
  const large = await readPdf((await handedOn(page, /^PDF of Idea/)).bytes);
  expect(large[0]?.text.join(' ')).toContain('C E');
  expect(large.length).toBeGreaterThan(1);

  const parts = await handedOn(page, /^PDF of each part of Idea/);
  expect(parts.name).toBe('Heron-Idea-parts.pdf');
  const pages = await readPdf(parts.bytes);
  const names = pages.map(found =>
    ['Xylophone', 'Marimba'].filter(name => found.text.some(text => text.startsWith(name))),
  );
  expect(names[0]).toEqual(['Xylophone']);
  expect(names.at(-1)).toEqual(['Marimba']);

  // The choice holds for the session, in print too.
  await goTo(page, 'Grow');
  await goTo(page, 'Keep');
  await expect(page.getByLabel('Stave height: 14 mm, large print')).toBeVisible();
  await page.evaluate(() => {
    window.print = () => {
      document.body.dataset['printed'] = 'yes';
    };
  });
  await moreFiles(page);
  await page.getByRole('button', { name: /^Print of Idea/ }).click();
  await expect(page.locator('body[data-printed]')).toBeAttached();
  const printed = await readPdf(await page.pdf({ preferCSSPageSize: true, printBackground: true }));
  expect(printed).toHaveLength(large.length);
  for (const [i, sheet] of printed.entries()) {
    // A4 as the PDF has it, upright or on its side, in whole points as Chromium prints it.
    expect(Math.abs(sheet.width - (large[i]?.width ?? 0))).toBeLessThan(1);
    expect(Math.abs(sheet.height - (large[i]?.height ?? 0))).toBeLessThan(1);
    expect(sheet.images).toBe(0);
    expect(sheet.paths).toBeGreaterThan(50);
    // All outlines: nothing of the app is on the paper.
    expect(sheet.text).toEqual([]);
  }
});

test('the idea as SVG: well formed, alone, and it shows in a picture', async ({ app: page }) => {
  await pieceInKeep(page);
  const { name, bytes } = await handedOn(page, /^Picture \(SVG\) of Idea/);
  expect(name).toBe('Heron-Idea-idea.svg');
  const text = bytes.toString('utf8');
  const parsed = await page.evaluate(source => {
    const tree = new DOMParser().parseFromString(source, 'application/xml');
    return {
      errors: tree.querySelectorAll('parsererror').length,
      kinds: [...new Set([...tree.querySelectorAll('*')].map(element => element.localName))].sort(),
      title: tree.querySelector('title')?.textContent,
      words: tree.querySelector('desc')?.textContent ?? '',
    };
  }, text);
  expect(parsed.errors).toBe(0);
  // Outlines only: nothing that needs a font, another file or a script.
  expect(parsed.kinds).toEqual(['desc', 'path', 'svg', 'title']);
  expect(text).not.toMatch(/href|url\(|font-family|<script/);
  expect(parsed.title).toBe('Idea, composed by Heron');
  expect(parsed.words).toContain('Bar 1: C5 quaver');
  // The motif alone is one bar.
  expect(parsed.words).not.toContain('Bar 2');
  const shown = await shownAsPicture(page, bytes, 'image/svg+xml');
  expect(shown.width).toBeGreaterThan(150);
  expect(shown.ink).toBeGreaterThan(0.02);
  expect(shown.ink).toBeLessThan(0.4);
});

test('the idea as PNG: 300 dots an inch, the same size and ink as its SVG', async ({ app: page }) => {
  await pieceInKeep(page);
  const svg = await handedOn(page, /^Picture \(SVG\) of Idea/);
  const png = await handedOn(page, /^Picture \(PNG\) of Idea/);
  expect(png.name).toBe('Heron-Idea-idea.png');
  const says = pngSays(png.bytes);
  expect(says.perMetre).toBe(11811); // 300 / 0.0254
  const drawn = await shownAsPicture(page, png.bytes, 'image/png');
  const vector = await shownAsPicture(page, svg.bytes, 'image/svg+xml');
  expect([drawn.width, drawn.height]).toEqual([says.width, says.height]);
  // The same picture at 300 instead of 96 dots.
  expect(drawn.width / vector.width).toBeCloseTo(300 / 96, 1);
  expect(drawn.height / vector.height).toBeCloseTo(300 / 96, 1);
  expect(Math.abs(drawn.ink / vector.ink - 1)).toBeLessThan(0.3);
});

test('the vibraphone motor of the settings is in the WAV, and off it leaves no trace', async ({
  app: page,
}) => {
  await pieceInKeep(page, 'vibraphone');
  const samples = async (): Promise<Int16Array> => {
    const { bytes } = await handedOn(page, /^WAV of Idea/);
    return new Int16Array(bytes.buffer.slice(bytes.byteOffset + 44, bytes.byteOffset + bytes.length));
  };
  const setMotor = async (to: string): Promise<void> => {
    await page.keyboard.press('?');
    await page.getByLabel('Vibraphone motor').selectOption(to);
    await page.getByRole('button', { name: 'Close' }).click();
  };
  const apart = (a: Int16Array, b: Int16Array): number =>
    a.reduce((most, sample, i) => Math.max(most, Math.abs(sample - (b[i] ?? 0))), 0);
  const still = await samples();
  await setMotor('medium');
  const turning = await samples();
  await setMotor('off');
  const again = await samples();
  expect(turning).toHaveLength(still.length);
  expect(apart(still, turning)).toBeGreaterThan(1000);
  expect(apart(still, again)).toBeLessThanOrEqual(1);
});

test('bars that come again are written once between repeat bars where the teacher asks for it', async ({
  app: page,
}) => {
  await openTake(page, { bpm: 90, click: true, strikes: IDEA });
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await goTo(page, 'Keep');
  const barsOf = (xml: string): number => xml.match(/<measure /g)?.length ?? 0;
  const written = (await handedOn(page, /^MusicXML of/)).bytes.toString('utf8');
  expect(barsOf(written)).toBe(4);
  await page.getByLabel(/^Repeats/).selectOption('bars');
  const signs = (await handedOn(page, /^MusicXML of/)).bytes.toString('utf8');
  expect(barsOf(signs)).toBe(1);
  expect(signs).toMatch(/<repeat direction="backward" times="4"/);
});
