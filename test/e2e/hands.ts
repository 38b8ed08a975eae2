import type { Page } from 'playwright/test';

/** What a teacher does at the page, by one way of doing it. */
export interface Hands {
  /** Chooses the note with this number, from 0. */
  readonly note: (index: number) => Promise<void>;
  /** Presses a correction or a word; by keyboard its key, where it has one. */
  readonly press: (name: string | RegExp, key?: string) => Promise<void>;
  /** Sets one of the sentences. */
  readonly set: (label: RegExp, value: string) => Promise<void>;
}

/** The same hands, and how often they have acted. */
export const counted = (hands: Hands): { hands: Hands; count: () => number } => {
  let actions = 0;
  const one =
    <A extends unknown[]>(act: (...args: A) => Promise<void>) =>
    async (...args: A): Promise<void> => {
      actions += 1;
      await act(...args);
    };
  return {
    hands: { note: one(hands.note), press: one(hands.press), set: one(hands.set) },
    count: () => actions,
  };
};

const heads = (page: Page): ReturnType<Page['locator']> =>
  page.locator('.vf-stavenote[data-refs]:not([data-refs=""]):not([data-tied])');

export const mouse = (page: Page): Hands => ({
  note: index => heads(page).nth(index).click(),
  press: name => page.getByRole('button', { name, exact: typeof name === 'string' }).click(),
  set: async (label, value) => {
    await page.getByLabel(label).selectOption(value);
  },
});
export const touch = (page: Page): Hands => ({
  ...mouse(page),
  note: index => heads(page).nth(index).tap(),
  press: name => page.getByRole('button', { name, exact: typeof name === 'string' }).tap(),
});
export const keyboard = (page: Page): Hands => ({
  note: async index => {
    await page.locator('body').press('Escape');
    for (let i = 0; i <= index; i++) await page.keyboard.press('ArrowRight');
  },
  press: async (name, key) => {
    if (key !== undefined) await page.keyboard.press(key);
    else await page.getByRole('button', { name, exact: typeof name === 'string' }).press('Enter');
  },
  set: async (label, value) => {
    const select = page.getByLabel(label);
    await select.focus();
    const text = await select.evaluate(
      (element, wanted) =>
        [...(element as HTMLSelectElement).options].find(option => option.value === wanted)?.text ?? '',
      value,
    );
    await page.keyboard.type(text);
  },
});
