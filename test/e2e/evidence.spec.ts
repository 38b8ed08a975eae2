import AxeBuilder from '@axe-core/playwright';
import { readFile } from 'node:fs/promises';
import { unzipByHand } from '../library/portable/zip.ts';
import { choosePupil, expect, goTo, keepCard, keepVersion, openDemo, test } from './app.ts';

test('a review, what the teacher says, and everything that is handed in, in one archive of open formats', async ({
  app: page,
}) => {
  await choosePupil(page, 'Heron');
  await openDemo(page, 'Ferry bell');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await keepCard(page, 'Canon');
  await goTo(page, 'Keep');
  await keepVersion(page);
  await page.getByRole('button', { name: 'Hand on Ferry bell by Heron' }).click();
  await page.getByRole('button', { name: 'Review and evidence of Ferry bell by Heron' }).click();
  const dialog = page.getByRole('dialog', { name: /^Review and evidence/ });
  await dialog.getByLabel('What was your idea').fill('A bell & a ferry.');
  await dialog.getByLabel('The idea', { exact: true }).fill('clear');
  await dialog.getByText('What is asked of every piece').click();
  await dialog.getByLabel(/^A piece may last/).selectOption('range');
  await dialog.getByLabel(/^Criteria, a line each/).fill('The idea\nHow it ends');
  await page.keyboard.press('Tab');
  await dialog.getByLabel('How it ends').fill('together');
  await dialog.getByLabel('Feedback for the pupil').fill('Go on.');
  await dialog.getByLabel('Feedback for the pupil').press('Tab');
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag22aa']).analyze();
  expect(violations.map(v => v.id)).toEqual([]);
  await expect(dialog).toContainText('0:10, shorter than 1:00 to 3:30');

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    dialog.getByRole('button', { name: 'Make the evidence pack' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('Heron-Ferry-bell-evidence.zip');
  const files = unzipByHand(new Uint8Array(await readFile(await download.path())));
  expect([...files.keys()]).toEqual([
    'Heron-Ferry-bell.pdf',
    'Heron-Ferry-bell-parts.pdf',
    'Heron-Ferry-bell.wav',
    'Heron-Ferry-bell.mid',
    'Heron-Ferry-bell.musicxml',
    'Heron-Ferry-bell-sheet.html',
  ]);
  // By their first bytes: PDF (ISO 32000), RIFF WAVE, standard MIDI file, XML.
  const begins = [...files.values()].map(bytes => Buffer.from(bytes.subarray(0, 5)).toString('latin1'));
  expect(begins).toEqual(
    ['%PDF-', '%PDF-', 'RIFF*', 'MThd\0', '<?xml', '<!doc'].map(b =>
      expect.stringContaining(b.replace('*', '')),
    ),
  );
  const sheet = new TextDecoder().decode(files.get('Heron-Ferry-bell-sheet.html'));
  for (const words of [
    'A bell &amp; a ferry.',
    'together',
    'Go on.',
    'canon, one beat later',
    'Versions that were kept',
  ])
    expect(sheet).toContain(words);

  // It is part of the piece: safe at once, there after a reload, and a step that can be undone.
  await dialog.getByRole('button', { name: 'Close' }).click();
  await expect(page.getByText(/^✓ safe/)).toBeVisible();
  await expect(page.locator('.with-feedback')).toHaveText('with feedback');
  await page.reload();
  await page.getByRole('button', { name: 'Hand on Ferry bell by Heron' }).click();
  await page.getByRole('button', { name: 'Review and evidence of Ferry bell by Heron' }).click();
  await expect(dialog.getByLabel('Feedback for the pupil')).toHaveValue('Go on.');
  await expect(dialog.getByLabel('How it ends')).toHaveValue('together');
  // Words are taken over while they are typed: a reload in the middle loses none.
  await dialog.getByLabel('What would you do').fill('Less of it.');
  await expect(page.locator('.history [aria-label="Undo: review"]')).toHaveCount(1);
  await expect(page.locator('.safe-sign.safe')).toHaveCount(1);
  await page.reload();
  await page.getByRole('button', { name: 'Hand on Ferry bell by Heron' }).click();
  await page.getByRole('button', { name: 'Review and evidence of Ferry bell by Heron' }).click();
  await expect(dialog.getByLabel('What would you do')).toHaveValue('Less of it.');
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('button', { name: 'Redo: feedback' })).toBeVisible();
});
