import { readFileSync } from 'node:fs';
import type { Page } from 'playwright/test';
import { choosePupil, enterClass, expect, goTo, keepVersion, pupilNow, test } from './app.ts';
import { readPdf } from './readPdf.ts';
import { openTake } from './takeFile.ts';

const IDEA = {
  bpm: 96,
  click: true,
  strikes: [0, 1, 2, 3].map((at, i) => [at, [72, 76, 79, 76][i] ?? 72] as const),
};
const names = (page: Page): Promise<string[]> =>
  page.locator('.register tbody th').evaluateAll(all => all.map(one => one.textContent));

test('the class list: pasted, told what was twice and empty, a group made, the key sheet laid out', async ({
  app: page,
}) => {
  await page.evaluate(() => {
    window.print = () => undefined;
  });
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Class list' }).click();
  const dialog = page.getByRole('dialog', { name: 'Class list' });
  await dialog.getByLabel(/called/).fill('8 Kestrel');
  await dialog.getByLabel(/called/).press('Enter');
  await dialog.getByLabel(/^Type or paste/).fill('Otter, Heron\n\notter\nLynx\n');
  await expect(dialog.getByRole('status')).toHaveText(
    '3 code names. Twice, so entered once: otter. One empty line was left out.',
  );
  await dialog.getByRole('button', { name: 'Put them on the list' }).click();
  await dialog.getByRole('checkbox', { name: 'Heron' }).check();
  await dialog.getByRole('checkbox', { name: 'Lynx' }).check();
  await dialog.getByRole('button', { name: 'Make a group of 2' }).click();
  await expect(dialog.getByRole('list', { name: 'Groups' })).toContainText('Heron and Lynx');
  await dialog.getByRole('button', { name: 'Make 30 names' }).click();
  await expect(dialog.getByRole('status')).toHaveText('30 code names.');
  await dialog.getByRole('button', { name: 'Print the key sheet' }).click();
  expect(await page.locator('#print .key-row b').allTextContents()).toEqual(['Otter', 'Heron', 'Lynx']);
  await page.keyboard.press('Escape');
  await expect(dialog).toBeHidden();
  // A shared piece is everybody's of the group.
  await choosePupil(page, 'Heron and Lynx');
  await openTake(page, IDEA);
  await page.getByRole('button', { name: 'Keep a version' }).click();
  await goTo(page, 'Keep');
  await expect(page.getByText('2 of 3 have kept something')).toBeVisible();
  expect(await names(page)).toEqual(['Heron and Lynx', 'Otter']);
});

test('a class that works in a key: the idea is offered in it', async ({ app: page }) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron');
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Class list' }).click();
  const dialog = page.getByRole('dialog', { name: 'Class list' });
  await dialog.getByLabel(/^The class works in/).selectOption('G');
  await page.keyboard.press('Escape');
  await choosePupil(page, 'Heron');
  // D, G and A fit many keys.
  await openTake(page, { ...IDEA, strikes: [74, 79, 81, 74].map((pitch, at) => [at, pitch] as const) });
  await expect(page.getByLabel(/^Key, .*/)).toHaveValue(/G major/);
});

test('by keyboard alone: choose, next, give, and Escape gives the focus back', async ({ app: page }) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  await goTo(page, 'Play');
  const word = page.locator('button.pupil-word');
  await word.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('combobox', { name: 'Code name' })).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(word).toBeFocused();
  await expect(page.getByRole('combobox', { name: 'Code name' })).toHaveCount(0);
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  expect(await pupilNow(page)).toBe('Heron');
  // Letters typed in the chooser strike no bars.
  await expect(page.getByText('Strike any bar to begin.')).toBeVisible();
  await page.keyboard.press('Alt+n');
  expect(await pupilNow(page)).toBe('Otter');
  await openTake(page, IDEA);
  await word.focus();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Give Idea to another' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('combobox', { name: 'Code name' }).focus();
  await page.keyboard.type('bad');
  await page.keyboard.press('Enter');
  expect(await pupilNow(page)).toBe('Badger');
  await expect(page.getByRole('button', { name: 'Undo: give it to Badger' })).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(word).toContainText('Otter');
});

test('what was caught before anyone was chosen is not yet given, and is given by the chooser', async ({
  app: page,
}) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron');
  await goTo(page, 'Play');
  await openTake(page, IDEA);
  expect(await pupilNow(page)).toBe('Not yet given');
  await page.locator('button.pupil-word').click();
  await page.getByRole('option', { name: /Heron/ }).click();
  expect(await pupilNow(page)).toBe('Heron');
  await goTo(page, 'Keep');
  expect(await names(page)).toEqual(['Badger', 'Heron']);
});

test('the register: sort, filters, who has nothing, hear, put away and bring back', async ({ app: page }) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await goTo(page, 'Keep');
  await keepVersion(page);
  expect(await names(page)).toEqual(['Badger', 'Heron', 'Otter']);
  await page.getByRole('button', { name: 'code name' }).click();
  expect(await names(page)).toEqual(['Otter', 'Heron', 'Badger']);
  await expect(page.getByRole('columnheader', { name: /code name/ })).toHaveAttribute(
    'aria-sort',
    'descending',
  );
  await page.getByLabel(/^Showing/).selectOption('nothing');
  expect(await names(page)).toEqual(['Otter', 'Badger']);
  await page.getByLabel(/^Showing/).selectOption('');
  await page.getByLabel(/^in any metre/).selectOption('4/4');
  expect(await names(page)).toEqual(['Heron']);
  await page.getByLabel(/^in 4/).selectOption('');
  await page.getByLabel('With the words').fill('OTTER');
  expect(await names(page)).toEqual(['Otter']);
  await page.getByLabel('With the words').fill('');

  await page.getByRole('button', { name: 'Hear Idea by Heron' }).click();
  await page.getByRole('button', { name: 'Stop Idea by Heron' }).click();
  await expect(page.getByRole('button', { name: 'Hear Idea by Heron' })).toBeVisible();

  const menu = page.getByRole('button', { name: 'Hand on Idea by Heron' });
  await menu.focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowUp');
  await expect(page.getByRole('button', { name: 'Put away of Idea by Heron' })).toBeFocused();
  await page.keyboard.press('Escape');
  await expect(menu).toBeFocused();
  await page.getByRole('button', { name: /^Next/ }).click();
  await goTo(page, 'Keep');
  await menu.click();
  await page.getByRole('button', { name: 'Put away of Idea by Heron' }).click();
  await expect(page.locator('.row-state.nothing')).toHaveCount(3);
  await page.getByLabel(/^Showing/).selectOption('away');
  await menu.click();
  await page.getByRole('button', { name: 'Bring back of Idea by Heron' }).click();
  await page.getByLabel(/^Showing/).selectOption('');
  await expect(page.locator('.row-state.kept')).toHaveCount(1);
});

test('what is like a piece, and like what was just struck, is found by rhythm and contour', async ({
  app: page,
}) => {
  const at = [0, 1, 1.5, 2, 3, 4, 5, 6];
  const pitches = [60, 62, 64, 65, 67, 65, 64, 60];
  const strikes = (times: readonly number[], higher: number) =>
    times.map((time, i) => [time, (pitches[i] ?? 60) + higher] as const);
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter, Vole');
  await choosePupil(page, 'Heron');
  await openTake(page, { bpm: 100, click: true, strikes: strikes(at, 0) });
  await choosePupil(page, 'Badger');
  await openTake(page, { bpm: 72, click: true, strikes: strikes(at, 7) });
  await choosePupil(page, 'Vole');
  await openTake(page, { bpm: 100, click: true, strikes: strikes([0, 0.5, 1, 3, 3.5, 4, 6, 7], 0) });
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Hand on Idea by Heron' }).click();
  await page.getByRole('button', { name: 'Find others like it of Idea by Heron' }).click();
  expect(await names(page)).toEqual(['Heron', 'Badger']);
  await page.getByLabel(/^in its rhythm and contour/).selectOption('contour');
  await expect.poll(() => names(page)).toEqual(['Heron', 'Badger', 'Vole']);
  await page.getByRole('button', { name: 'Show all' }).click();
  await expect.poll(() => names(page)).toEqual(['Badger', 'Heron', 'Otter', 'Vole']);

  await goTo(page, 'Play');
  await page.locator('h1').click();
  // Up five steps and down again, as the keys lie: every piece rises and falls so.
  await page.keyboard.press('a');
  await goTo(page, 'Keep');
  const showing = page.getByLabel(/^Showing/);
  await showing.selectOption('what is like what was just struck');
  await expect(page.getByRole('alert')).toContainText('fewer than 5 notes');
  await expect(showing).toHaveValue('');
  await goTo(page, 'Play');
  for (const key of 'asdfgfda') await page.keyboard.press(key, { delay: 90 });
  await expect(page.locator('.catch-words')).toContainText(/[89] strikes/);
  await goTo(page, 'Keep');
  await showing.selectOption('what is like what was just struck');
  await expect(page.locator('.alike-name')).toHaveText('What was just struck');
  await page.getByLabel(/^in its/).selectOption('contour');
  await expect.poll(() => names(page)).toEqual(['Badger', 'Heron', 'Vole']);
});

test('an older version is seen, compared and brought back, as a step that can be undone', async ({
  app: page,
}) => {
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await page.getByRole('button', { name: 'Keep a version' }).click();
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
  await page.getByLabel('Title').fill('Bell');
  await page.getByLabel('Title').press('Enter');
  await page.getByRole('button', { name: 'Keep a version' }).click();
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Hand on Bell by Heron' }).click();
  await page.getByRole('button', { name: 'Versions of Bell by Heron' }).click();
  const versions = page.locator('.version');
  await expect(versions).toHaveCount(2);
  await versions.nth(0).getByRole('button', { name: 'Compare' }).click();
  await versions.nth(1).getByRole('button', { name: 'Compare' }).click();
  await expect(page.locator('.versions.side-by-side .version')).toHaveCount(2);
  await versions.nth(1).getByRole('button', { name: 'Bring back' }).click();
  await expect(page.getByRole('dialog')).toBeHidden();
  await page.getByRole('button', { name: 'Undo: bring a version back' }).click();
  await goTo(page, 'Write');
  await expect(page.getByLabel('Title')).toHaveValue('Bell');
});

test('from the register’s menu a piece is given to another, and the giving can be undone', async ({
  app: page,
}) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await page.getByRole('button', { name: /^Next/ }).click();
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Hand on Idea by Heron' }).click();
  await page.getByRole('button', { name: 'Give to another pupil of Idea by Heron' }).click();
  const asked = page.getByRole('dialog', { name: 'Give Idea by Heron to' });
  // Escape closes it wherever in it one is, on a button too.
  await asked.getByRole('button', { name: 'Leave it' }).focus();
  await page.keyboard.press('Escape');
  await expect(asked).toBeHidden();
  await page.getByRole('button', { name: 'Hand on Idea by Heron' }).click();
  await page.getByRole('button', { name: 'Give to another pupil of Idea by Heron' }).click();
  await asked.getByLabel('Code name').fill('badg');
  await asked.getByLabel('Code name').press('Enter');
  await expect(asked).toBeHidden();
  await expect(page.getByLabel('Title')).toBeVisible();
  await goTo(page, 'Keep');
  await expect(page.getByRole('button', { name: 'Open Idea by Badger' })).toBeVisible();
  await page.getByRole('button', { name: 'Undo: give it to Badger' }).click();
  await expect(page.getByRole('button', { name: 'Open Idea by Heron' })).toBeVisible();
});

test('a whole class on paper: one PDF, each piece on pages of its own, in the order that is shown', async ({
  app: page,
}) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  for (const pupil of ['Heron', 'Badger', 'Otter']) {
    await choosePupil(page, pupil);
    await openTake(page, IDEA);
    await page.getByLabel('Title').fill(`Tune of ${pupil}`);
    await page.getByLabel('Title').press('Enter');
  }
  await goTo(page, 'Keep');
  await expect(page.locator('.register tbody th')).toHaveCount(3);
  const all = page.getByRole('button', { name: 'Hand on all 3' });
  await all.click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'One PDF of all 3' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('8-Kestrel.pdf');
  const pdf = await readPdf(readFileSync(await download.path()));
  expect(pdf.map(one => /Tune of (\w+)/.exec(one.text.join(' '))?.[1])).toEqual(['Badger', 'Heron', 'Otter']);
  await page.evaluate(() => {
    window.print = () => {
      document.body.dataset['printed'] = String(document.querySelectorAll('#print .paper').length);
    };
  });
  await all.click();
  await page.getByRole('button', { name: 'Print all 3' }).click();
  await expect(page.locator('body')).toHaveAttribute('data-printed', '3');
  await expect(all).toBeVisible();
});
