import AxeBuilder from '@axe-core/playwright';
import type { Locator, Page } from 'playwright/test';
import { expect, goTo, inWords, test } from './app.ts';
import { openPart } from './grown.ts';
import { openTake, type Struck } from './takeFile.ts';

// F3 lies in a xylophone's range and below a glockenspiel's, whose lowest bar is G3 (orchestration handbooks).
const LOW: readonly Struck[] = [
  [0, 53],
  [1, 57],
  [2, 60],
  [3, 57],
];

const open = async (page: Page, strikes: readonly Struck[]): Promise<void> => {
  await openTake(page, { bpm: 90, click: true, strikes });
  await page.getByRole('button', { name: 'Use this motif' }).click();
};
const playable = (page: Page): Locator => page.getByRole('button', { name: /^Playable:/ });
const panel = (page: Page): Locator => page.getByRole('group', { name: 'Playable', exact: true });

const onGlockenspiel = async (page: Page): Promise<void> => {
  const part = await openPart(page, 'Xylophone');
  await part.getByLabel(/^Played on a xylophone/).selectOption('glockenspiel');
  await page.keyboard.press('Escape');
};

/** Opens the panel and gives the xylophone's part the classroom's alto xylophone. */
const onAltoXylophone = async (page: Page): Promise<void> => {
  await playable(page).click();
  await panel(page)
    .getByLabel(/^Xylophone plays on/)
    .selectOption('alto-xylophone');
};

test('a note below the glockenspiel is named, mended by one press, and undone', async ({ app: page }) => {
  await open(page, LOW);
  await expect(playable(page)).toHaveText('Playable: yes');
  await onGlockenspiel(page);
  await expect(playable(page)).toHaveText('Playable: 1 to look at');
  await playable(page).click();
  await expect(panel(page).getByText('F3 is below the lowest bar, G3')).toBeVisible();
  await expect(panel(page).locator('.set-out > p')).toHaveText('Set out 2 bars: A3, C4');
  await expect(panel(page).getByRole('img')).toHaveAttribute(
    'aria-label',
    'Concert glockenspiel: A3, C4 to set out; without a bar: F3',
  );

  await panel(page)
    .getByRole('button', { name: /^Move it up an octave/ })
    .click();
  await expect(playable(page)).toHaveText('Playable: yes');
  await expect(panel(page).locator('.set-out > p')).toHaveText('Set out 3 bars: F4, A4, C5');
  expect((await inWords(page)).join(' ')).toContain('F4 crotchet; A4 crotchet; C5 crotchet');

  await page.keyboard.press('Control+z');
  await expect(playable(page)).toHaveText('Playable: 1 to look at');
  await expect(panel(page).getByText('F3 is below the lowest bar, G3')).toBeVisible();
  await page.keyboard.press('Control+Shift+z');
  await expect(playable(page)).toHaveText('Playable: yes');
});

test('a classroom set: exchange bar put in, undone, and kept by the machine', async ({ app: page }) => {
  await open(page, [
    [0, 67],
    [1, 66],
    [2, 67],
    [3, 69],
  ]);
  await onAltoXylophone(page);
  await expect(panel(page).getByText('sounds an octave lower than you hear it here')).toBeVisible();
  await expect(panel(page).getByText(/F♯4 is not put in|G♭4 is not put in/)).toBeVisible();
  const put = panel(page).getByRole('button', { name: /^Put in F♯4 for F4/ });
  await put.click();
  await expect(playable(page)).toHaveText('Playable: yes');
  await page.keyboard.press('Control+z');
  await expect(put).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(panel(page).getByLabel(/^Xylophone plays on/)).toHaveValue('concert-xylophone');
  await page.keyboard.press('Control+Shift+z');
  await page.keyboard.press('Control+Shift+z');
  await expect(playable(page)).toHaveText('Playable: yes');

  // The room belongs to the machine: another start of the app finds it as it was left.
  await page.reload();
  await open(page, [[0, 66]]);
  await playable(page).click();
  await expect(panel(page).getByLabel(/^Xylophone plays on/)).toHaveValue('alto-xylophone');
  await expect(playable(page)).toHaveText('Playable: yes');
});

test('a move and a bar in one press are one step: both go back together', async ({ app: page }) => {
  await open(page, [
    [0, 55],
    [1, 66],
    [2, 67],
    [3, 69],
  ]);
  await onAltoXylophone(page);
  const lack = panel(page).getByText('G3 is below the lowest bar, C4; F♯4 is not put in');
  await expect(lack).toBeVisible();
  await panel(page)
    .getByRole('button', { name: /^Move it up an octave, and put in F♯5 for F5/ })
    .click();
  await expect(panel(page).locator('.set-out > p')).toHaveText('Set out 4 bars: G4, F♯5, G5, A5');
  await page.keyboard.press('Control+z');
  await expect(lack).toBeVisible();
  await panel(page)
    .getByRole('button', { name: /^Change this set/ })
    .click();
  const exchange = panel(page).getByRole('button', { name: 'F♯5 for F5', exact: true });
  await expect(exchange).toHaveAttribute('aria-pressed', 'false');
  await page.keyboard.press('Control+Shift+z');
  await expect(exchange).toHaveAttribute('aria-pressed', 'true');
  await expect(playable(page)).toHaveText('Playable: yes');
});

test('damaged rooms are left alone and the usual one is there', async ({ app: page }) => {
  await page.evaluate(() => {
    localStorage.setItem('malletloom.rooms', '{"all":[],"current":"x"}');
  });
  await page.reload();
  await open(page, LOW);
  await playable(page).click();
  await expect(panel(page).getByLabel(/^Xylophone plays on/)).toHaveValue('concert-xylophone');
});

test('bars lifted off by keyboard; too fast at the new tempo; hands on request; axe finds nothing', async ({
  app: page,
}) => {
  // Two notes at once in quavers, and one after them: 333 ms at crotchet = 90; 250 ms at 120, faster than
  // one hand can.
  await open(page, [
    [0, 72],
    [0, 76],
    [0.5, 74],
    [0.5, 77],
    [1, 76],
    [2, 72],
    [3, 79],
  ]);
  await playable(page).focus();
  await page.keyboard.press('Enter');
  await panel(page).getByRole('button', { name: 'Sticking of the xylophone' }).focus();
  await page.keyboard.press('Enter');
  await expect(panel(page).getByRole('list', { name: /^Sticking of the xylophone/ })).toContainText(
    /Bar 1: LR LR [LR] [LR] [LR]/,
  );
  await expect(page.locator('.over .hand')).toHaveCount(5);
  await expect(page.locator('.over .hand').first()).toHaveText('LR');
  await expect(playable(page)).toHaveText('Playable: yes');
  await page.getByLabel(/^at crotchet =/).fill('120');
  await page.keyboard.press('Enter');
  await expect(playable(page)).toHaveText('Playable: 1 to look at');
  await expect(panel(page).getByText('Bar 1, beat 1; bar 1, beat 2: faster than one hand can')).toBeVisible();

  await panel(page)
    .getByRole('button', { name: /^Change this set/ })
    .click();
  const bar = panel(page).getByRole('button', { name: 'G5', exact: true });
  await bar.focus();
  await page.keyboard.press('Enter');
  await expect(playable(page)).toHaveText('Playable: 2 to look at');
  await expect(panel(page).getByText('G5 is lifted off', { exact: false })).toBeVisible();
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 160)).join(' | ')}`)).toEqual([]);
  await panel(page)
    .getByRole('button', { name: /^Put G5 back on/ })
    .click();
  await expect(playable(page)).toHaveText('Playable: 1 to look at');
  await goTo(page, 'Write');
});
