import { expect, goTo, inWords, openDemo, test, hearIn, moreSettings } from './app.ts';

test('a note is chosen with the mouse, corrected with buttons, and the piece in Grow follows', async ({
  app: page,
}) => {
  await openDemo(page, 'Late for lunch');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  const grown = await inWords(page);
  await goTo(page, 'Write');
  await page.locator('.vf-stavenote').nth(1).click();
  await expect(page.getByText('A4 quaver, bar 1, 1 &')).toBeAttached();
  await expect(page.getByLabel('at bar 1, 1 &')).toBeVisible();
  await page.getByRole('button', { name: 'Higher' }).click();
  await expect(page.getByRole('button', { name: /^Undo: A4 to C5/ })).toBeVisible();
  await expect.poll(async () => (await inWords(page))[2]).toContain('G4 quaver; C5 quaver');
  await goTo(page, 'Grow');
  const followed = await inWords(page);
  expect(followed).not.toEqual(grown);
  expect(followed[2]).toContain('G4 quaver; C5 quaver');
});

test('another reading, another metre, another grid and tempo: each re-reads at once and can be undone', async ({
  app: page,
}) => {
  await openDemo(page, 'Tin roof');
  const before = await inWords(page);
  expect(before[2]).toContain('Bar 1:');
  await page.getByRole('button', { name: /more ways?$/i }).click();
  await page.locator('.reading-choose').nth(1).click();
  await expect.poll(() => inWords(page)).not.toEqual(before);
  await page.keyboard.press('Control+z');
  await expect.poll(() => inWords(page)).toEqual(before);
  await page.getByLabel(/^Metre:/).selectOption('3/4');
  await expect.poll(async () => (await inWords(page))[0]).toContain('3/4');
  await page.getByRole('button', { name: /^Undo: write it in 3\/4/ }).click();
  await moreSettings(page);
  await page.getByLabel(/^Smallest value:/).selectOption('beat');
  await expect(page.getByRole('button', { name: /^Undo: smallest value/ })).toBeVisible();
  const coarse = (await inWords(page)).slice(2).join(' ');
  expect(coarse).not.toMatch(/\bquaver|semiquaver/);
  await page.getByRole('button', { name: /^Undo: smallest/ }).click();
  await moreSettings(page);
  await page.getByLabel(/^Swing tolerance:/).selectOption('none');
  expect(before[0]).toContain('swung quavers');
  await expect(page.locator('.swing-mark')).toHaveCount(0);
  expect((await inWords(page))[0]).not.toContain('swung');
  expect((await inWords(page)).join(' ')).toContain('triplet');
});

test('the take, the page, and one after the other are heard, with a cursor that moves', async ({
  app: page,
}) => {
  await openDemo(page, 'Ferry bell');
  const stop = page.getByRole('button', { name: 'Stop', exact: true });
  await hearIn(page, 'page');
  const line = page.locator('.cursor-line');
  await expect(line).toBeVisible();
  const first = await line.evaluate(e => e.getBoundingClientRect().x);
  await expect.poll(() => line.evaluate(e => e.getBoundingClientRect().x)).toBeGreaterThan(first);
  await stop.click();
  await expect(line).toBeHidden();
  await page.getByLabel(/speed$/).selectOption('50');
  await hearIn(page, 'take');
  await expect(stop).toBeEnabled();
  await page.keyboard.press('Escape');
  await expect(stop).toBeDisabled();
});

test('the take played without a click is read too, and says how sure it is', async ({ app: page }) => {
  await openDemo(page, 'Puddle jump');
  expect((await inWords(page)).length).toBeGreaterThan(3);
  await expect(page.locator('.reading')).not.toHaveCount(0);
  const likelihood = page.locator('.reading-words').first();
  await expect(likelihood).toContainText('most likely, on the page now');
  await expect(likelihood).toHaveAttribute('title', /^\d+ %$/);
});

test('a click that nobody kept to is let go of by one word, and taken up again', async ({ app: page }) => {
  await openDemo(page, 'Late for lunch');
  const toClick = await inWords(page);
  await moreSettings(page);
  const toIt = page.getByLabel('It was played to the click');
  const freely = page.getByLabel('It was played freely');
  await toIt.selectOption('free');
  // Its name says so once it has been read anew.
  await expect(freely).toBeVisible();
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.reload();
  await moreSettings(page);
  await freely.selectOption('click');
  await expect(toIt).toBeVisible();
  expect(await inWords(page)).toEqual(toClick);
});

test('beats on which nothing is struck are counted in brackets', async ({ app: page }) => {
  await openDemo(page, 'Puddle jump');
  // Bar 1 has 1 & & 3 4 &, with nothing on the second beat; bar 2 has 1 & 3.
  const first = page.locator('.over').first().locator('.count');
  const all = await first.evaluateAll(counts =>
    counts
      .map(count => ({ x: Number(count.getAttribute('x')), text: count.textContent.trim() }))
      .sort((a, b) => a.x - b.x)
      .map(count => count.text),
  );
  expect(all).toEqual(['1', '&', '(2)', '&', '3', '4', '&', '1', '(2)', '&', '3', '(4)']);
});
