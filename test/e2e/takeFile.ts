import type { Page } from 'playwright/test';
import { type TakeFile, takeBytes } from '../tools/takeBytes.ts';
import { expect } from './app.ts';

export type { Struck, TakeFile } from '../tools/takeBytes.ts';

/** Opens an invented take in Write. */
export const openTake = async (page: Page, take: TakeFile): Promise<void> => {
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'idea.mid', mimeType: 'audio/midi', buffer: takeBytes(take) });
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await expect(page.locator('.system svg').first()).toBeVisible();
};
