import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright/test';
import { wav16 } from '../../core/exchange/wav.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { readWav } from '../../core/hearing/readWav.ts';
import config from '../../playwright.config.ts';
import { recordedPhrase } from '../hearing/recorded.ts';
import { expect, goTo, inWords, keepCard, keepVersion, openDemo, test } from './app.ts';

// The bars in the room, heard through Chromium's own microphone, which plays a recording instead of a room.

/** An idea on recorded bars of a real xylophone, twice, at 96 a minute, two seconds after the microphone opens. */
const BEAT = 60 / 96;
const IDEA = [
  [0, 84],
  [0.75, 88],
  [1.5, 91],
  [2, 88],
  [3, 86],
] as const;
const blows = [0, 4].flatMap(bar =>
  IDEA.map(([at, midi]) => ({ at: 2 + (bar + at) * BEAT, midi, velocity: 90 })),
);
const folder = mkdtempSync(join(tmpdir(), 'room-'));
const room = join(folder, 'room.wav');
const { rate, samples } = recordedPhrase(blows, 0.001);
writeFileSync(room, wav16([samples], rate));
test.afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const given = config.use?.launchOptions ?? {};
test.use({
  launchOptions: {
    ...given,
    args: [
      ...(given.args ?? []),
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      // Once through, then silence.
      `--use-file-for-fake-audio-capture=${room}%noloop`,
    ],
  },
});

const source = (page: Page) => page.getByRole('combobox', { name: /^on the screen/ });
const sign = (page: Page) => page.getByRole('button', { name: 'Listening to the room: stop' });
const caughtWords = (page: Page) => page.locator('.catch-words');

/** Begins to listen, as somebody at the keyboard does. */
const listen = async (page: Page, through = 'headphones'): Promise<void> => {
  await source(page).selectOption(through);
  await expect(sign(page)).toBeVisible();
  await expect(caughtWords(page)).toContainText('Listening: five minutes are remembered');
};

test('an idea on real bars is heard, caught, read, corrected, grown and kept', async ({ app: page }) => {
  await expect(sign(page)).toHaveCount(0);
  await listen(page);
  await expect(page.locator('.play-sentence')).toContainText('the bars in the room');
  await expect(caughtWords(page)).toContainText('Your last phrase: 10 strikes, 4 seconds.', {
    timeout: 15_000,
  });
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  // Played at 96; a busy machine's fake microphone may run a little slow.
  await expect.poll(async () => (await inWords(page)).join(' ')).toMatch(/crotchet = 9[4-8]/);
  const words = (await inWords(page)).join(' ');
  // A xylophone's part is written an octave below what sounds.
  for (const note of ['C5', 'E5', 'G5', 'D5']) expect(words).toContain(note);
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Alt+ArrowUp');
  await expect.poll(async () => (await inWords(page)).join(' ')).not.toBe(words);
  // What was heard is heard once more by that: the same bar of the room is put right wherever it was struck.
  await page.getByRole('button', { name: 'Listen again' }).click();
  await expect(page.getByText(/^Heard again: \w+ notes? on another bar\.$/)).toBeVisible({ timeout: 20_000 });
  // Its sound is in this window alone, unless somebody keeps it.
  const kept = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Keep the sound' }).click();
  const sound = readWav(readFileSync(await (await kept).path()), 'kept.wav');
  expect(sound.ok && struckBars(sound.value).length).toBe(blows.length);
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Canon');
  await goTo(page, 'Keep');
  await keepVersion(page);
  // It goes on listening in every place, and says so there.
  await sign(page).click();
  await expect(sign(page)).toHaveCount(0);
});

/** Notes every bar that moves, by its pitch. */
const watchBars = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const moved: number[] = [];
    Object.assign(window, { moved });
    const animate: (this: Element, ...given: Parameters<Element['animate']>) => Animation = Reflect.get(
      Element.prototype,
      'animate',
    );
    Element.prototype.animate = function (this: Element, ...given) {
      const pitch = this.getAttribute('data-pitch');
      if (pitch !== null) moved.push(Number(pitch));
      return animate.apply(this, given);
    };
  });
const movedBars = (page: Page): Promise<number[]> =>
  page.evaluate(() => (window as unknown as { moved: number[] }).moved);

test('each strike moves its bar, once, and sounds from no loudspeaker', async ({ app: page }) => {
  await watchBars(page);
  await listen(page, 'loudspeaker');
  await expect(caughtWords(page)).toContainText('10 strikes', { timeout: 15_000 });
  expect(await movedBars(page)).toEqual(blows.map(blow => blow.midi - 12));
});

test('while Malletloom plays through loudspeakers it does not listen, says so, and then goes on', async ({
  app: page,
}) => {
  await openDemo(page, 'Ferry bell');
  await goTo(page, 'Play');
  await listen(page, 'loudspeaker');
  await goTo(page, 'Write');
  await page.getByRole('button', { name: 'Hear', exact: true }).click();
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeEnabled();
  // The recording plays on in real time meanwhile: what it strikes now is not heard.
  await page.waitForTimeout(2000);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await goTo(page, 'Play');
  await expect(caughtWords(page)).toContainText(/Your last phrase: [1-9] strikes?,/, { timeout: 15_000 });
});

test('listening is only ever begun by somebody: a reload does not, and a second window ends the first', async ({
  app: page,
}) => {
  await listen(page);
  await expect(caughtWords(page)).toContainText('10 strikes', { timeout: 15_000 });
  const other = await page.context().newPage();
  await other.goto(page.url());
  await listen(other);
  await expect(sign(page)).toHaveCount(0);
  await expect(page.locator('.problem')).toContainText(
    'Another window of Malletloom listens to the room now',
  );
  await expect(caughtWords(page)).toContainText('10 strikes');
  await other.reload();
  await expect(other.getByRole('button', { name: 'Catch that' })).toBeVisible();
  await expect(sign(other)).toHaveCount(0);
  await expect(source(other)).toHaveValue('off');
});

test('unplugged in the middle: what was heard stays and can be caught', async ({ app: page }) => {
  await page.evaluate(() => {
    const devices = navigator.mediaDevices;
    const ask = devices.getUserMedia.bind(devices);
    devices.getUserMedia = async given => {
      const stream = await ask(given);
      Object.assign(window, { track: stream.getAudioTracks()[0] });
      return stream;
    };
  });
  await listen(page);
  await expect(caughtWords(page)).toContainText(/[4-9] strikes/, { timeout: 15_000 });
  // What the browser does when a device goes away: the track is over, and says so.
  await page.evaluate(() => {
    const { track } = window as unknown as { track: MediaStreamTrack };
    track.stop();
    track.dispatchEvent(new Event('ended'));
  });
  await expect(page.locator('.problem')).toContainText(
    'The microphone was unplugged or switched off; listening has stopped. All that was heard up to then is kept',
  );
  await expect(sign(page)).toHaveCount(0);
  await expect(source(page)).toHaveValue('off');
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
});

test('each bar struck once: the room knows its bars from then on, and no music is made of it', async ({
  app: page,
}) => {
  await listen(page);
  await page.getByRole('button', { name: 'Strike each bar once' }).click();
  const dialog = page.getByRole('dialog', { name: 'Strike each bar once' });
  await expect(dialog.getByRole('button', { name: 'Keep these bars' })).toBeDisabled();
  // Struck more than once, a bar is still one.
  await expect(dialog).toContainText('4 bars: C5, D5, E5, G5.', { timeout: 15_000 });
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(v => v.id)).toEqual([]);
  await page.waitForTimeout(1500);
  await dialog.getByRole('button', { name: 'Keep these bars' }).click();
  await expect(dialog).toHaveCount(0);
  await expect(caughtWords(page)).toContainText('Strike some bars.');
  await page.reload();
  await listen(page);
  await page.getByRole('button', { name: 'Strike each bar once' }).click();
  await expect(dialog).toContainText('4 bars are known.');
  await dialog.getByRole('button', { name: 'forget them' }).click();
  await expect(dialog).not.toContainText('are known');
});

for (const [name, said] of [
  ['NotAllowedError', 'This page may not use the microphone.'],
  ['NotFoundError', 'No microphone is found.'],
  ['NotReadableError', 'The microphone cannot be used just now.'],
] as const) {
  test(`${name} is said in a sentence, and playing goes on`, async ({ app: page }) => {
    await page.evaluate(kind => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', kind));
    }, name);
    await page.keyboard.press('a');
    await source(page).selectOption('loudspeaker');
    await expect(page.locator('.problem')).toContainText(said);
    await expect(page.locator('.problem')).toContainText('What was heard before stays remembered');
    await expect(sign(page)).toHaveCount(0);
    await page.keyboard.press('d');
    await expect(caughtWords(page)).toContainText('2 strikes');
  });
}

test('a microphone that is switched off, by keyboard alone; axe finds nothing; it fits the smallest screen', async ({
  app: page,
}) => {
  await page.setViewportSize({ width: 1280, height: 720 });
  await source(page).focus();
  await page.keyboard.press('ArrowDown');
  await expect(sign(page)).toBeVisible();
  await expect(caughtWords(page)).toContainText('Listening: five minutes are remembered');
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(v => v.id)).toEqual([]);
  // The header holds all of it, in one line; the bars leave the sentences free.
  const boxes = await page.evaluate(() => {
    const box = (selector: string): DOMRect | undefined =>
      document.querySelector(selector)?.getBoundingClientRect();
    return {
      places: [...document.querySelectorAll('.place')].map(place => place.getBoundingClientRect().top),
      next: box('header .next')?.right ?? Infinity,
      sentence: box('.play-sentence')?.bottom ?? Infinity,
      bars: Math.min(...[...document.querySelectorAll('.bar')].map(bar => bar.getBoundingClientRect().top)),
    };
  });
  expect(new Set(boxes.places).size).toBe(1);
  expect(boxes.next).toBeLessThanOrEqual(1280);
  expect(boxes.bars).toBeGreaterThanOrEqual(boxes.sentence - 1);
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeInViewport({ ratio: 1 });
  await sign(page).focus();
  await page.keyboard.press('Enter');
  await expect(sign(page)).toHaveCount(0);
});

test('in the pupil view too it shows that it listens, and one press ends it', async ({ app: page }) => {
  await listen(page);
  await page.getByRole('button', { name: 'Pupil view' }).click();
  await expect(sign(page)).toBeVisible();
  await sign(page).click();
  await expect(sign(page)).toHaveCount(0);
});
