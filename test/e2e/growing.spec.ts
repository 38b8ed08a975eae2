import { expect, goTo, inWords, keepCard, moreSettings, test } from './app.ts';
import { BAR, bracket, grow, IDEA, keep, openPart, tryCard, words } from './grown.ts';
import { openTake, type Struck } from './takeFile.ts';

test('a part that plays already: the choice is plain, and nothing is lost in silence', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Repetition');
  await page.getByLabel(/^Write it into/).selectOption({ label: 'the xylophone' });
  await page.getByLabel(/^from bar \d/).selectOption('2');
  await tryCard(page, 'Retrograde');
  await expect(page.getByRole('alert')).toContainText('already plays');
  // The card stays open, to be asked otherwise.
  await expect(page.locator('.treatment.chosen')).toContainText('not tried');
  await page.getByRole('button', { name: 'Wait until it is free' }).click();
  await keep(page);
  expect(await words(page)).toContain('Bar 5: D5 crotchet; E5 quaver');
  await page.keyboard.press('Control+z');
  await bracket(page, 'the motif, four times').click();
  await page.getByLabel(/^Write it into/).selectOption({ label: 'the xylophone' });
  await page.getByLabel(/^from bar \d/).selectOption('2');
  await tryCard(page, 'Retrograde');
  await page.getByRole('button', { name: 'Cut what is there' }).click();
  await keep(page);
  const all = await inWords(page);
  expect(all[2]).toContain(BAR);
  expect(all[3]).toContain('D5 crotchet; E5 quaver');
  expect(all[4]).toContain(BAR);
});

test('a treatment that found its part taken is tried in the part chosen next', async ({ app: page }) => {
  await grow(page);
  await keepCard(page, 'Repetition');
  await page.getByLabel(/^Write it into/).selectOption({ label: 'the xylophone' });
  await tryCard(page, 'Retrograde');
  await expect(page.getByRole('group', { name: 'The part plays there already' })).toBeVisible();
  await page.getByLabel(/^Write it into/).selectOption({ label: 'a new marimba' });
  await expect(page.getByRole('group', { name: 'The part plays there already' })).toHaveCount(0);
  await expect(page.locator('.bracket.tried')).toContainText('retrograde');
  await expect(page.locator('.problem')).toHaveCount(0);
});

test('brackets by keyboard alone: walk, move by a beat, copy, give to another part, take away', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Canon');
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('ArrowRight');
  await expect(page.locator('.bracket.chosen')).toContainText('canon, one beat later');
  await page.keyboard.press('Alt+ArrowRight');
  await expect(page.locator('.bracket.chosen').first()).toContainText('canon, two beats later');
  await page.keyboard.press('c');
  await expect(page.locator('.bracket')).toHaveCount(3);
  await page.keyboard.press('Delete');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(
    page.locator('.bracket.chosen, .bracket').filter({ hasText: 'canon, one beat later' }),
  ).not.toHaveCount(0);
});

test('parts: added, named, given another instrument, ordered, silenced, heard alone, taken away', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Canon');
  let part = await openPart(page, 'Glockenspiel');
  await expect(part.getByText('It sounds two octaves higher.')).toBeVisible();
  await part.getByLabel('Name of part 2').fill('The echo');
  await part.getByLabel('Name of part 2').press('Enter');
  part = page.getByRole('dialog', { name: 'The echo' });
  await part.getByLabel('Played on a glockenspiel').selectOption('vibraphone');
  await part.getByRole('button', { name: 'The echo up' }).click();
  expect((await inWords(page)).filter(line => ['The echo', 'Xylophone'].includes(line))).toEqual([
    'The echo',
    'Xylophone',
  ]);
  await part.getByRole('button', { name: 'Silent' }).click();
  await expect(page.getByRole('button', { name: 'The echo, silent' }).first()).toBeVisible();
  await part.getByRole('button', { name: 'Silent' }).click();
  await part.getByRole('button', { name: 'Alone' }).click();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('button', { name: /^The echo, alone/ }).first()).toBeFocused();
  await page.getByRole('button', { name: 'Parts and bars' }).click();
  const panel = page.getByRole('group', { name: 'Parts and bars' });
  await panel.getByRole('button', { name: 'Add' }).click();
  await expect(page.locator('.part-handle')).toHaveText(['The echo', 'Xylophone', 'Marimba']);
  const marimba = await openPart(page, 'Marimba');
  await marimba.getByRole('button', { name: 'Take the marimba away' }).click();
  await expect(page.locator('.part-handle')).toHaveText(['The echo', 'Xylophone']);
  await expect(page.getByRole('button', { name: /^Xylophone/ }).first()).toBeFocused();
  await panel.getByLabel('At bar').fill('2');
  await panel.getByLabel('At bar').press('Tab');
  await panel.getByLabel(/^rehearsal letter/).selectOption('yes');
  await panel.getByLabel(/^from here crotchet/).fill('60');
  await panel.getByLabel(/^from here crotchet/).press('Tab');
  const all = await words(page);
  expect(all).toContain('Letter A');
  expect(all).toContain('crotchet = 60');
});

test('a correction of the motif goes through the piece, and what changed is shown', async ({ app: page }) => {
  await grow(page);
  await keepCard(page, 'Canon');
  await goTo(page, 'Write');
  await page.locator('.vf-stavenote .hit').nth(1).click();
  await page.keyboard.press('f');
  await expect(page.getByRole('button', { name: /^Undo: E5 to F5/ })).toBeVisible();
  await goTo(page, 'Grow');
  expect((await words(page)).match(/F5/g)?.length).toBeGreaterThanOrEqual(2);
  await expect(page.locator('.bracket.rippled')).not.toHaveCount(0);
});

test('the entry finder: a map walked by keys, heard by touch, and only what is kept stays', async ({
  app: page,
}) => {
  await grow(page);
  await page.getByRole('button', { name: 'Find an entry for another part' }).click();
  const finder = page.getByRole('group', { name: 'Entry finder' });
  await expect(finder.locator('.entry')).toHaveCount(5 * 15);
  const same = finder.getByRole('button', { name: /^at the same height, one beat later/ });
  await same.focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowUp');
  await expect(finder.locator('.entry-words')).toContainText('a third higher, one beat later');
  await expect(page.locator('.bracket.tried')).toHaveCount(0);
  await page.keyboard.press('Enter');
  await expect(page.locator('.bracket.tried')).toContainText('imitation, one beat later, a third higher');
  await finder.getByRole('button', { name: 'Back to the cards' }).click();
  await expect(page.locator('.bracket')).toHaveCount(1);
  await page.getByRole('button', { name: 'Find an entry for another part' }).click();
  await finder.getByLabel(/every beat/).selectOption('halves');
  await finder.getByLabel(/as it is/).selectOption('diminished');
  await finder.getByRole('button', { name: /^at the same height, half a beat later/ }).click();
  await keep(page);
  await expect(bracket(page, 'canon by diminution, half a beat later')).toBeVisible();
});

test('a motif cut longer: what followed on waits until its part is free, and undo brings all back', async ({
  app: page,
}) => {
  await openTake(page, {
    bpm: 120,
    click: true,
    strikes: [...IDEA, ...([4, 5, 6, 7] as const).map((at, i): Struck => [at, 60 + 2 * i])],
  });
  const lastBar = page.getByLabel('to', { exact: true });
  await lastBar.fill('1');
  await lastBar.press('Tab');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Sequence');
  const before = await words(page);
  await expect(page.locator('.bracket')).toHaveCount(3);
  await goTo(page, 'Write');
  await lastBar.fill('2');
  await lastBar.press('Tab');
  await goTo(page, 'Grow');
  const after = await inWords(page);
  expect(after.at(-1)).toMatch(/^Bar 6/);
  expect(after.join(' ')).not.toContain(' and ');
  await page.keyboard.press('Control+z');
  expect(await words(page)).toBe(before);
});

test('going to another place stops what plays, what is tapped and what is tried', async ({ app: page }) => {
  await grow(page);
  await tryCard(page, 'Canon');
  await expect(page.locator('.bracket.tried')).toHaveCount(1);
  const stop = page.getByRole('button', { name: 'Stop', exact: true });
  await expect(stop).toBeEnabled();
  await goTo(page, 'Write');
  await expect(stop).toBeDisabled();
  await moreSettings(page);
  await page.getByRole('button', { name: 'tap the beat' }).click();
  await expect(page.getByRole('group', { name: 'Tap the beat' })).toBeVisible();
  await goTo(page, 'Grow');
  await expect(page.locator('.bracket')).toHaveCount(1);
  await goTo(page, 'Write');
  await expect(page.getByRole('group', { name: 'Tap the beat' })).toHaveCount(0);
});

test('a part may be called anything: markup stays text, and the widest name stays clear of the stave', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Canon');
  for (const [part, field, name] of [
    ['Xylophone', 'Name of part 1', 'W'.repeat(24)],
    ['Glockenspiel', 'Name of part 2', '<b>Tom & "Jo" > all</b>'],
  ] as const) {
    const box = await openPart(page, part);
    await box.getByLabel(field).fill(name);
    await box.getByLabel(field).press('Enter');
    await page.keyboard.press('Escape');
    await expect(page.locator('.part-handle').filter({ hasText: name }).first()).toBeVisible();
  }
  const clear = await page.evaluate(() => {
    const rights = [...document.querySelectorAll('.part-handle')].map(e => e.getBoundingClientRect().right);
    const lefts = [...document.querySelectorAll('.sheet .system svg path')].map(
      path => path.getBoundingClientRect().left,
    );
    return Math.min(...lefts) - Math.max(...rights);
  });
  expect(clear).toBeGreaterThanOrEqual(0);
});

test('what could not be written any more is refused in plain words, and the page stays as it is', async ({
  app: page,
}) => {
  // Four semiquavers, then a quaver triplet: a third of that would be triplets inside thirds of a beat.
  const strikes = [0, 0.25, 0.5, 0.75, 1, 4 / 3, 5 / 3, 2, 3].map((at, i): Struck => [at, 72 + (i % 2) * 4]);
  await openTake(page, { bpm: 60, click: true, strikes });
  expect(await words(page)).toContain('triplet quaver');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  const before = await words(page);
  await tryCard(page, 'Diminution');
  await page.getByLabel(/^Faster/).selectOption('3');
  await expect(page.getByRole('alert')).toContainText('too short, or too uneven, to be written');
  // What it asks to change is not under it, on the smallest screen too.
  await page.setViewportSize({ width: 1280, height: 720 });
  const said = await page.locator('.problem').boundingBox();
  const pane = await page.getByRole('complementary', { name: 'Development pane' }).boundingBox();
  expect((said?.x ?? NaN) + (said?.width ?? NaN)).toBeLessThanOrEqual(pane?.x ?? NaN);
  expect(await words(page)).toBe(before);
});
