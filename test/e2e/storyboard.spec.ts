import type { Page } from 'playwright/test';
import { expect, goTo, inWords, test } from './app.ts';
import { openTake, type Struck } from './takeFile.ts';

// The piece of check values (product.md, common practice): from one bar a piece of twelve, in at most
// forty actions. Every press, choice and entry is one action.
const MOST_ACTIONS = 40;

const PARTS = ['Xylophone', 'Marimba', 'Glockenspiel', 'Vibraphone'];

const IDEA: readonly Struck[] = [
  [0, 72],
  [0.5, 76],
  [1.5, 79],
  [2.5, 76],
  [3, 74],
];

test('from one bar: a piece of four parts and twelve bars in at most forty actions', async ({
  app: page,
}) => {
  await openTake(page, { bpm: 90, click: true, strikes: IDEA });
  let actions = 0;
  const press = async (name: string | RegExp): Promise<void> => {
    actions += 1;
    await page
      .getByRole('button', { name, exact: typeof name === 'string' })
      .first()
      .click();
  };
  const set = async (label: RegExp, value: string): Promise<void> => {
    actions += 1;
    await page.getByLabel(label).first().selectOption(value);
  };
  const card = async (title: string): Promise<void> => {
    actions += 1;
    await page.locator('.treatment-try').filter({ hasText: title }).first().click();
    await expect(page.locator('.treatment.chosen').filter({ hasText: title })).toBeVisible();
  };
  const bracket = async (text: string): Promise<void> => {
    actions += 1;
    await page.locator('.bracket').filter({ hasText: text }).first().click();
  };

  await set(/^Key, /, 'C major');
  await press('Use this motif');
  // An idea of one bar, four times: four bars.
  await card('Repetition');
  await press('Write it in');
  // A second part enters at bar 3.
  await set(/^Write it into/, 'a new marimba');
  await set(/^from bar \d/, '3');
  await card('Second part');
  await press('Write it in');
  expect((await bars(page)).filter(line => line.startsWith('Bar'))).toHaveLength(8);

  // Section A at bar 5, with the parts exchanged.
  await card('Another section');
  await set(/^From bar \d/, '1');
  await set(/^to bar \d/, '4');
  await set(/^with no parts exchanged/, 'p1');
  await press('Write it in');
  // Section B at bar 9: two bars a step higher, then another step.
  await card('Another section');
  await set(/^From bar \d/, '7');
  await set(/^to bar \d/, '8');
  await set(/^Again/, '2');
  await set(/^each time/, '1');
  await press('Write it in');

  // Two more parts: a canon and an augmentation under section A.
  await bracket('the motif, four times');
  await set(/^Write it into/, 'a new glockenspiel');
  await card('Canon');
  await press('Write it in');
  await bracket('the motif, four times');
  await set(/^Write it into/, 'a new vibraphone');
  await card('Augmentation');
  await press('Write it in');

  // Crotchet = 90 becomes 120.
  actions += 1;
  await page.getByLabel(/^at crotchet =/).fill('120');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');

  expect(actions).toBeLessThanOrEqual(MOST_ACTIONS);
  console.log(`storyboard: ${String(actions)} actions`);
  await expect(page.getByText(/12 bars, 24 seconds/)).toBeVisible();
  const words = await bars(page);
  const part = (name: string): string[] => {
    const from = words.indexOf(name);
    const next = words.findIndex((line, i) => i > from && PARTS.includes(line));
    return words.slice(from + 1, next < 0 ? undefined : next).filter(line => /\bbar \d+/i.test(line));
  };
  const idea = 'C5 quaver; E5 crotchet';
  const xylophone = part('Xylophone');
  const marimba = part('Marimba');
  expect(xylophone).toHaveLength(12);
  for (const bar of [0, 1, 2, 3]) expect(xylophone[bar]).toContain(idea);
  expect(marimba[1]).toContain('rest');
  for (const bar of [2, 3, 4, 5, 6, 7]) expect(marimba[bar]).toContain(idea);
  expect(xylophone[5]).toContain('rest');
  for (const bar of [6, 7]) expect(xylophone[bar]).toContain(idea);
  for (const line of [xylophone, marimba]) {
    for (const bar of [8, 9]) expect(line[bar]).toContain('D5 quaver; F5 crotchet');
    for (const bar of [10, 11]) expect(line[bar]).toContain('E5 quaver; G5 crotchet');
  }
  expect(part('Glockenspiel')[0]).toContain('crotchet rest; C5 quaver');
  expect(part('Vibraphone')[0]).toContain('C5 crotchet; E5 crotchet, tied; E5 crotchet');
  await expect(page.locator('.system').filter({ hasText: 'A' }).first()).toBeVisible();
  expect((await inWords(page)).join(' ')).toContain('120');
  await goTo(page, 'Write');
});

const bars = async (page: Page): Promise<string[]> =>
  (await inWords(page)).map(line => line.replace(/^(Bar \d+)[^:]*:/, '$1:'));
