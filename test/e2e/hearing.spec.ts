import { wav16 } from '../../core/exchange/wav.ts';
import { recordedPhrase } from '../hearing/recorded.ts';
import { expect, inWords, test } from './app.ts';

/** An idea on recorded bars of a real xylophone, twice, at 96 a minute. */
const BEAT = 60 / 96;
const IDEA = [
  [0, 84],
  [0.75, 88],
  [1.5, 91],
  [2, 88],
  [3, 86],
];
const blows = [0, 4].flatMap(bar =>
  IDEA.map(([at = 0, midi = 0]) => ({ at: 0.6 + (bar + at) * BEAT, midi, velocity: 90 })),
);

test('a recording of struck bars is heard, read and written; it goes on as any idea', async ({
  app: page,
}) => {
  const { rate, samples } = recordedPhrase(blows, 0.001);
  const chooser = page.locator('input[type=file]');
  await chooser.setInputFiles({
    name: 'ferry bell.wav',
    mimeType: 'audio/wav',
    buffer: Buffer.from(wav16([samples], rate)),
  });
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await expect(page.getByLabel('Title')).toHaveValue('Ferry bell');
  await expect.poll(async () => (await inWords(page)).join(' ')).toContain('crotchet = 96');
  const words = (await inWords(page)).join(' ');
  // A xylophone's part is written an octave below what sounds.
  for (const note of ['C5', 'E5', 'G5', 'D5']) expect(words).toContain(note);
  // The first is put right to be the bar below; heard once more, the same bar is that wherever it was struck.
  const again = page.getByRole('button', { name: 'Listen again' });
  await expect(again).toBeHidden();
  await page.keyboard.press('ArrowRight');
  await page.getByLabel(/^Note: C5/).selectOption('71');
  await expect(again).toBeInViewport({ ratio: 1 });
  const notes = async (name: string): Promise<number> =>
    (await inWords(page)).join(' ').split(name).length - 1;
  await expect.poll(() => notes('B4')).toBe(1);
  await again.click();
  await expect.poll(() => notes('B4')).toBe(2);
  expect(await notes('C5')).toBe(0);
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await expect(page.getByText('Repetition').first()).toBeVisible();
});

test('a recording without bars, and a file that is none, say so in a sentence; nothing is lost', async ({
  app: page,
}) => {
  const chooser = page.locator('input[type=file]');
  const said = page.locator('.problem');
  await chooser.setInputFiles({
    name: 'silence.wav',
    mimeType: 'audio/wav',
    buffer: Buffer.from(wav16([new Float32Array(44100)], 44100)),
  });
  await expect(said).toContainText('No struck bars, and no claps or taps, are heard in silence.wav.');
  await chooser.setInputFiles({
    name: 'broken.wav',
    mimeType: 'audio/wav',
    buffer: Buffer.from('no sound at all'),
  });
  await expect(said).toContainText('broken.wav is no recording that can be heard here.');
  await chooser.setInputFiles({
    name: 'song.m4a',
    mimeType: 'audio/mp4',
    buffer: Buffer.from('no sound at all'),
  });
  await expect(said).toContainText('song.m4a cannot be heard by this browser.');
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeVisible();
});
