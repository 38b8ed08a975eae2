import type { Locator, Page } from 'playwright/test';
import { expect, inWords } from './app.ts';
import { openTake, type Struck } from './takeFile.ts';

/** An idea of one bar at crotchet = 120. */
export const IDEA: readonly Struck[] = [
  [0, 72],
  [0.5, 76],
  [1.5, 79],
  [2.5, 76],
  [3, 74],
];
export const BAR = 'C5 quaver; E5 crotchet; G5 quaver, tied; G5 quaver; E5 quaver; D5 crotchet';

export const grow = async (page: Page): Promise<void> => {
  await openTake(page, { bpm: 120, click: true, strikes: IDEA });
  await page.getByLabel(/^Key, /).selectOption('C major');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await expect(page.getByRole('region', { name: 'The score' })).toBeVisible();
};
export const words = async (page: Page): Promise<string> => (await inWords(page)).join(' ');
export const bracket = (page: Page, text: string): ReturnType<Page['locator']> =>
  page.locator('.bracket').filter({ hasText: text }).first();
export const tryCard = async (page: Page, title: string): Promise<void> => {
  await page.locator('.treatment-try').filter({ hasText: title }).first().click();
};
/** Opens what stands behind a part's name, left of its stave. */
export const openPart = async (page: Page, name: string): Promise<Locator> => {
  await page
    .getByRole('button', { name: `${name}: loudness, order, instrument` })
    .first()
    .click();
  return page.getByRole('dialog', { name, exact: true });
};
export const keep = (page: Page): Promise<void> => page.getByRole('button', { name: 'Write it in' }).click();
