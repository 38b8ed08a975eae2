import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { wav16 } from '../../core/exchange/wav.ts';
import config from '../../playwright.config.ts';
import { soundOfClaps } from '../hearing/clapping.ts';
import { expect, goTo, inWords, test } from './app.ts';

// A rhythm clapped in the room, heard through Chromium's own microphone, of which there are two.

/** The habanera twice (dotted quaver, semiquaver, two quavers: common practice) at 96 a minute, after two seconds. */
const BEAT = 60 / 96;
const claps = [0, 2, 4, 6].flatMap(bar =>
  [0, 0.75, 1, 1.5].map(at => ({ at: 2 + (bar + at) * BEAT, velocity: at === 0 ? 100 : 84 })),
);
const folder = mkdtempSync(join(tmpdir(), 'claps-'));
const room = join(folder, 'claps.wav');
const { rate, samples } = soundOfClaps(claps, 'hands', { hiss: 0.002, room: 0.05 });
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
      '--use-fake-device-for-media-stream=device-count=2',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${room}%noloop`,
    ],
  },
});

test('claps in the room are a rhythm on one line; the microphone is chosen and remembered', async ({
  app: page,
}) => {
  const source = page.getByRole('combobox', { name: /^on the screen/ });
  await source.selectOption('claps');
  await expect(page.locator('.play-sentence')).toContainText('claps in the room, with headphones');
  await expect(page.getByRole('button', { name: 'Strike each bar once' })).toHaveCount(0);
  await expect(page.locator('.catch-words')).toContainText('Your last phrase: 16 strikes', {
    timeout: 20_000,
  });
  await page.getByRole('button', { name: 'More settings' }).click();
  const through = page.getByRole('combobox', { name: /^Microphone:/ });
  await expect(through.locator('option').first()).toHaveText('the system’s own');
  const second = await through.locator('option').nth(2).getAttribute('value');
  await through.selectOption(second);
  // It listens on, through the other one, and does so after a reload, too.
  await expect(page.getByRole('button', { name: 'Listening to the room: stop' })).toBeVisible();
  await expect(through).toHaveValue(second ?? '');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await expect(page.getByRole('button', { name: 'Give it pitches' })).toBeVisible();
  await expect
    .poll(async () => (await inWords(page)).join(' '))
    .toMatch(/dotted quaver.*semiquaver.*quaver.*quaver/i);
  // A pupil is offered nothing that a rhythm without pitches would not show.
  await goTo(page, 'Play');
  await page.getByRole('button', { name: 'Pupil view' }).click();
  await page.goBack();
  await page.getByRole('button', { name: 'Yes, that is it' }).click();
  await expect(page.getByRole('button', { name: /^Again/ })).toBeEnabled();
  await expect(page.getByRole('button', { name: /^Upside down/ })).toBeDisabled();
});
