import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright';
import { findChromium } from '../browser.ts';

// `npx tsx test/tools/icons.ts`: makes the icons of assets/icons in all sizes from their drawings.

const icons = fileURLToPath(new URL('../../assets/icons/', import.meta.url));
const executablePath = findChromium();
const browser = await chromium.launch({
  ...(executablePath === undefined ? {} : { executablePath }),
  args: ['--no-sandbox'],
});
for (const [drawing, size] of [
  ['icon', 192],
  ['icon', 512],
  ['icon-maskable', 512],
] as const) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const svg = readFileSync(`${icons}${drawing}.svg`, 'utf8');
  await page.setContent(
    `<style>body{margin:0}svg{display:block;width:${String(size)}px;height:${String(size)}px}</style>${svg}`,
  );
  await page.screenshot({ path: `${icons}${drawing}-${String(size)}.png`, omitBackground: true });
}
await browser.close();
