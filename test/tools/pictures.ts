import { fileURLToPath } from 'node:url';
import { chromium, type Page } from 'playwright';
import { serve } from '../../electron/loopback/server.ts';
import { findChromium } from '../browser.ts';
import { enterClass } from '../e2e/app.ts';

/** Takes the README's pictures: `npx vite build && npx tsx test/tools/pictures.ts [width height folder]`. */
const [width = '1366', height = '768', folder = 'test/pictures'] = process.argv.slice(2);
const root = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
const serving = await serve({ root, port: 0 });
const executablePath = findChromium();
const browser = await chromium.launch({
  ...(executablePath === undefined ? {} : { executablePath }),
  args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required'],
});
const page: Page = await browser.newPage({ viewport: { width: Number(width), height: Number(height) } });
// A machine with MIDI and nothing plugged in.
await page.addInitScript(
  'navigator.requestMIDIAccess = async () => Object.assign(new EventTarget(), { inputs: new Map(), outputs: new Map(), sysexEnabled: false })',
);
await page.goto(serving.url);
const shot = async (name: string): Promise<void> => {
  await page.waitForTimeout(500);
  await page.screenshot({ path: `${folder}/${name}.png` });
};
const place = (name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name }).click();
const card = async (title: string): Promise<void> => {
  await page.locator('.treatment-try').filter({ hasText: title }).first().click();
};
const keep = (): Promise<void> => page.getByRole('button', { name: 'Write it in' }).click();

await shot('first-run');
await enterClass(page, '8 Kestrel', 'Curlew\nHeron\nOtter\nWren\nFalcon');
for (const [demo, cards] of [
  ['Late for lunch', ['Repetition']],
  ['Tin roof', ['Imitation']],
  ['Puddle jump', []],
  ['Ferry bell', []],
] as const) {
  await page.getByRole('button', { name: /^Next/ }).click();
  await page.getByRole('button', { name: demo }).click();
  await page.locator('.system svg').first().waitFor();
  if (demo === 'Ferry bell') {
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await page.mouse.move(700, 15);
    await shot('write');
    await page.getByRole('button', { name: 'Use this motif' }).click();
    await card('Repetition');
    await keep();
    await card('Canon');
    await keep();
    await page.locator('.bracket').first().click();
    await page.getByLabel(/^Write it into/).selectOption({ label: 'a new marimba' });
    await card('Augmentation');
    await page.keyboard.press('Escape');
    await card('Augmentation');
    await page.waitForTimeout(900);
    await shot('grow');
    await keep();
  } else if (cards.length > 0) {
    await page.getByRole('button', { name: 'Use this motif' }).click();
    for (const name of cards) {
      await card(name);
      await keep();
    }
  }
  await page.getByRole('button', { name: 'Keep a version' }).click();
  await page.locator('.safe-sign.safe').waitFor();
}
await place('Keep');
await shot('keep');
await page.getByRole('button', { name: /^Next/ }).click();
await page.getByLabel(/^Bars lifted off/).selectOption('5,11');
// To a click, so that the page writes itself; the lamps say where the beat is.
await page.getByLabel(/^Click/).selectOption('on');
await page.getByRole('button', { name: 'Start the click' }).click();
// Looked for in every frame: a locator looks again after up to half a second.
await page.evaluate(
  "new Promise(lit => { const look = () => document.querySelector('.beat-lamp.lit:not(.counting)') === null ? requestAnimationFrame(look) : lit(); look(); })",
);
const beat = 60_000 / 92;
const began = Date.now();
for (const [at, key] of [
  [0, 'KeyA'],
  [1, 'KeyD'],
  [1.5, 'KeyG'],
  [2.5, 'KeyH'],
  [3, 'KeyG'],
  [4, 'KeyA'],
  [5, 'KeyD'],
  [5.5, 'KeyG'],
  [6.5, 'KeyH'],
  [7, 'KeyG'],
] as const) {
  await page.waitForTimeout(Math.max(0, began + at * beat - Date.now()));
  await page.keyboard.press(key);
}
await page.waitForTimeout(250);
await page.screenshot({ path: `${folder}/play.png` });
await page.getByRole('button', { name: 'Stop', exact: true }).click();
// The same pupil's own tune, in the pupil view.
await page.getByRole('button', { name: 'Pupil view' }).click();
await page.waitForTimeout(2200);
await page.getByRole('button', { name: 'Catch it' }).click();
await page.getByRole('button', { name: 'Yes, that is it' }).click();
const pupilCard = (title: string) => page.locator('.pupil-card').filter({ hasText: title }).first();
await pupilCard('Again').click();
await keep();
await page.getByRole('button', { name: 'Other cards' }).click();
await pupilCard('Canon').click();
await page.waitForTimeout(600);
await page.mouse.move(700, 15);
await page.screenshot({ path: `${folder}/pupil.png` });
await browser.close();
await serving.close();
