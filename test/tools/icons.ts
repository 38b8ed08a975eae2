import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium } from 'playwright';
import { ICON_SIZES, icnsOf, icoOf } from '../../electron/package/iconFiles.ts';
import { findChromium } from '../browser.ts';

// `npm run icons`: the icons of the browser edition and of the program, at every size, from their drawings.

const icons = fileURLToPath(new URL('../../assets/icons/', import.meta.url));
const program = fileURLToPath(new URL('../../electron/package/icons/', import.meta.url));

/** A drawing as a picture of so many pixels a side. */
const pictureOf = async (browser: Browser, drawing: string, size: number): Promise<Uint8Array> => {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const svg = readFileSync(`${icons}${drawing}.svg`, 'utf8');
  await page.setContent(
    `<style>body{margin:0}svg{display:block;width:${String(size)}px;height:${String(size)}px}</style>${svg}`,
  );
  const png = await page.screenshot({ omitBackground: true });
  await page.close();
  return png;
};

const executablePath = findChromium();
const browser = await chromium.launch({
  ...(executablePath === undefined ? {} : { executablePath }),
  args: ['--no-sandbox'],
});
for (const [drawing, size] of [
  ['icon', 192],
  ['icon', 512],
  ['icon-maskable', 512],
] as const)
  writeFileSync(`${icons}${drawing}-${String(size)}.png`, await pictureOf(browser, drawing, size));

const pictures = [];
for (const size of ICON_SIZES) {
  const png = await pictureOf(browser, 'icon', size);
  writeFileSync(`${program}${String(size)}x${String(size)}.png`, png);
  pictures.push({ size, png });
}
writeFileSync(`${program}icon.ico`, icoOf(pictures.filter(({ size }) => size <= 256)));
writeFileSync(`${program}icon.icns`, icnsOf(pictures));
await browser.close();
