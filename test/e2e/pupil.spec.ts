import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright/test';
import { PUPIL_TEXTS } from '../../renderer/views/pupil/texts/pupilTexts.ts';
import { choosePupil, enterClass, expect, goTo, inWords, openDemo, test } from './app.ts';

// The pupil view: one instruction at a time, ten controls at the most, and a piece of eight bars without help.

const button = (page: Page, name: string) => page.getByRole('button', { name, exact: true });
const card = (page: Page, title: string) => page.locator('.pupil-card').filter({ hasText: title });
const says = (page: Page, text: string | RegExp) => expect(page.locator('h1.instruction')).toHaveText(text);
const toPupilView = (page: Page) => button(page, 'Pupil view').click();

/** Strikes by key, evenly enough to be read: C E G E and so on, a crotchet at 120 apart. */
const strike = async (page: Page, keys: string): Promise<void> => {
  await page.evaluate(async all => {
    const began = performance.now();
    for (const [i, key] of all.split('').entries()) {
      await new Promise(done => setTimeout(done, Math.max(0, began + i * 500 - performance.now())));
      window.dispatchEvent(new KeyboardEvent('keydown', { key, code: `Key${key.toUpperCase()}` }));
      window.dispatchEvent(new KeyboardEvent('keyup', { key, code: `Key${key.toUpperCase()}` }));
    }
  }, keys);
};

/** What can be pressed, moved or filled in; the bars are one instrument. */
const controls = (page: Page) =>
  page
    .locator('button:visible:not(.bar), input:visible, select:visible, summary:visible, a:visible')
    .evaluateAll(all =>
      all.map(element => {
        const { width, height } = element.getBoundingClientRect();
        return { name: element.textContent, width, height, kind: element.tagName };
      }),
    );

const isForPupils = async (page: Page): Promise<void> => {
  const all = await controls(page);
  expect(all.length).toBeLessThanOrEqual(10);
  expect(all.filter(c => c.height < 44 || c.width < 44)).toEqual([]);
  expect(await page.locator('.pupil-shell').innerText()).not.toMatch(/%|tolerance|quaver|reading/i);
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 160)).join(' | ')}`)).toEqual([]);
};

test('a pupil alone gets from opening the app to a kept piece of eight bars in twenty-five actions', async ({
  app: page,
}) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  await goTo(page, 'Play');
  await toPupilView(page);
  let actions = 0;
  const press = async (what: ReturnType<typeof button>): Promise<void> => {
    actions += 1;
    await what.click();
  };
  await says(page, 'Who are you? Press your name.');
  await isForPupils(page);
  await press(card(page, 'Heron'));
  await says(page, 'Play a short tune on the bars.');
  await isForPupils(page);
  // Two bars of crotchets.
  await strike(page, 'adgdfdsa');
  actions += 8;
  await says(page, /Then press Catch it/);
  await press(button(page, 'Catch it'));
  await says(page, /Is this your tune/);
  await expect(page.locator('.pupil-page .system svg').first()).toBeVisible();
  await isForPupils(page);
  await press(button(page, 'Hear'));
  await press(button(page, 'Yes, that is it'));
  await says(page, 'Make your tune grow. Press a card.');
  await isForPupils(page);
  const bars = async (): Promise<number> =>
    (await inWords(page)).filter(line => line.startsWith('Bar')).length;
  const idea = await bars();
  await press(card(page, 'Again'));
  await says(page, /Do you like it/);
  // Touching a card plays it.
  await expect(button(page, 'Stop')).toBeEnabled();
  await isForPupils(page);
  await press(button(page, 'Write it in'));
  expect(await bars()).toBe(2 * idea);
  for (const title of ['Back to front', 'Upside down', 'One step up', 'Slow']) {
    if ((await bars()) >= 8) break;
    await press(card(page, title));
    await press(button(page, 'Write it in'));
  }
  expect(await bars()).toBeGreaterThanOrEqual(8);
  await press(button(page, 'I am done'));
  await says(page, /Give your tune a name/);
  await isForPupils(page);
  await page.getByLabel('My tune is called').fill('Stairs');
  actions += 1;
  await press(button(page, 'Keep it'));
  await says(page, /safe here/);
  await isForPupils(page);
  expect(actions).toBeLessThanOrEqual(25);

  // Played along: counted in, one instruction at a time, a part of one's own to choose.
  await button(page, 'Play along').click();
  await says(page, 'Play your tune with me. Press Play along.');
  await isForPupils(page);
  await button(page, 'Play along').click();
  await says(page, 'Wait for the count. Then play.');
  await says(page, 'Play your tune now.');
  await page.keyboard.press('KeyA');
  await page.keyboard.press('Space');
  await says(page, /^Good try!|^Well played!/);
  await expect(page.locator('.over g.noticed')).not.toHaveCount(0);
  await isForPupils(page);
  await button(page, 'Go back').click();
  await says(page, /safe here/);

  // The next pupil begins at an empty desk; the piece is in the register under the right name.
  await button(page, 'Next pupil').click();
  await says(page, 'Play a short tune on the bars.');
  await expect(page.locator('.pupil-here')).toHaveText('Otter');
  await button(page, 'Teacher’s view').click();
  await goTo(page, 'Keep');
  await expect(page.getByRole('button', { name: 'Open Stairs by Heron' })).toBeVisible();
});

test('what was written in is taken back step by step, and going back leads to the tune', async ({
  app: page,
}) => {
  await openDemo(page, 'Puddle jump');
  await goTo(page, 'Play');
  await toPupilView(page);
  await goForward(page);
  const before = await inWords(page);
  await card(page, 'Again').click();
  const tried = await inWords(page);
  expect(tried).not.toEqual(before);
  // Pressed once more it is left; so is it with Escape.
  await card(page, 'Again').click();
  expect(await inWords(page)).toEqual(before);
  await card(page, 'Canon').click();
  await page.keyboard.press('Escape');
  expect(await inWords(page)).toEqual(before);
  await card(page, 'Upside down').click();
  await button(page, 'Write it in').click();
  await button(page, 'Take it back').click();
  await expect(button(page, 'Go back')).toBeVisible();
  expect(await inWords(page)).toEqual(before);
  await button(page, 'Go back').click();
  await says(page, /Is this your tune/);
});

/** Forward again from the bars to growing, with a tune that lies on the desk. */
const goForward = async (page: Page): Promise<void> => {
  await page.goBack();
  await says(page, /Is this your tune/);
  await button(page, 'Yes, that is it').click();
  await says(page, /Make your tune grow/);
};

test('another way to write it is heard and chosen by one press', async ({ app: page }) => {
  await openDemo(page, 'Late for lunch');
  await goTo(page, 'Play');
  await toPupilView(page);
  await page.goBack();
  const before = await inWords(page);
  await card(page, 'Way 2').click();
  await expect(card(page, 'Way 2')).toHaveAttribute('aria-pressed', 'true');
  await expect(button(page, 'Stop')).toBeEnabled();
  expect(await inWords(page)).not.toEqual(before);
});

test('the view survives a reload in the middle, and a machine may start in it', async ({ app: page }) => {
  await openDemo(page, 'Puddle jump');
  await goTo(page, 'Play');
  await toPupilView(page);
  await goForward(page);
  await card(page, 'Again').click();
  await button(page, 'Write it in').click();
  const grown = await inWords(page);
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.reload();
  await says(page, /Make your tune grow/);
  expect(await inWords(page)).toEqual(grown);
  await button(page, 'Take it back').click();
  await button(page, 'Go back').click();
  await button(page, 'Go back').click();
  await button(page, 'Teacher’s view').click();
  await page.getByRole('button', { name: 'Help and all keys' }).click();
  await page.getByLabel(/This machine starts in/).selectOption('pupil');
  await page.reload();
  await says(page, 'Play a short tune on the bars.');
  await button(page, 'Teacher’s view').click();
  await expect(button(page, 'Catch that')).toBeVisible();
});

test('speaks German where it is chosen: on every screen, after a reload, and nothing English is left', async ({
  app: page,
}) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  await page.getByRole('button', { name: 'Help and all keys' }).click();
  await page.getByLabel(/The pupil view speaks/).selectOption('de');
  await page.keyboard.press('Escape');
  await goTo(page, 'Play');
  await toPupilView(page);
  await page.reload();
  const german = PUPIL_TEXTS.de;
  const { words, buttons, cards, frame } = german;
  const leaves = (of: object): string[] =>
    Object.values(of).flatMap((value: unknown) =>
      typeof value === 'string' ? [value] : typeof value === 'object' && value !== null ? leaves(value) : [],
    );
  const english = leaves(PUPIL_TEXTS.en).filter(text => text.length > 4);
  const isGerman = async (): Promise<void> => {
    const shell = page.locator('.pupil-shell');
    await expect(shell).toHaveAttribute('lang', 'de');
    const aloud = await shell
      .locator('[aria-label]:not(.bar)')
      .evaluateAll(all => all.map(e => e.getAttribute('aria-label') ?? ''));
    const shown = [await shell.innerText(), ...aloud].join('\n');
    expect(english.filter(text => new RegExp(`\\b${text.replace(/[.?()]/g, '\\$&')}`).test(shown))).toEqual(
      [],
    );
    await isForPupils(page);
    // No word of a button is cut.
    expect(
      await page
        .locator('.pupil-shell button:visible:not(.bar)')
        .evaluateAll(all => all.filter(b => b.scrollWidth > b.clientWidth + 1).map(b => b.textContent)),
    ).toEqual([]);
  };
  await says(page, words.who);
  await isGerman();
  await card(page, 'Heron').click();
  await says(page, words.play);
  await strike(page, 'adgd');
  await says(page, words.catch);
  await isGerman();
  await button(page, buttons.catch).click();
  await says(page, words.write);
  await expect(page.locator('.pupil-shell header')).toContainText(german.labels.untitled);
  await isGerman();
  await button(page, buttons.yes).click();
  await says(page, words.grow);
  await card(page, cards.again.title).click();
  await says(page, words.trying);
  await isGerman();
  await button(page, buttons.writeIn).click();
  await button(page, buttons.done).click();
  await button(page, buttons.keep).click();
  await says(page, words.kept);
  await isGerman();
  await button(page, buttons.along).click();
  await says(page, words.along);
  await isGerman();
  await expect(button(page, frame.hear)).toBeVisible();
});

test('by keyboard alone; keys that correct for a teacher change nothing', async ({ app: page }) => {
  await openDemo(page, 'Puddle jump');
  await goTo(page, 'Play');
  await button(page, 'Pupil view').press('Enter');
  await page.goBack();
  const before = await inWords(page);
  for (const key of ['ArrowRight', 'Alt+ArrowRight', 'Alt+ArrowUp', 't', 'Backspace', 'p', '?'])
    await page.keyboard.press(key);
  expect(await inWords(page)).toEqual(before);
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await button(page, 'Yes, that is it').press('Enter');
  await says(page, /Make your tune grow/);
  // The button that was pressed is gone: the instruction has the focus, and the cards come next.
  await expect(page.locator('h1.instruction')).toBeFocused();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await says(page, /Do you like it/);
  await button(page, 'Write it in').press('Space');
  await expect(button(page, 'Take it back')).toBeVisible();
});

test('thirty names come a few at a time, and who is not there may play', async ({ app: page }) => {
  const names = Array.from({ length: 30 }, (_, i) => `Bird${String(i + 1)}`);
  await enterClass(page, '8 Kestrel', names.join(', '));
  await goTo(page, 'Play');
  await toPupilView(page);
  const seen: string[] = [];
  for (let turn = 0; turn < 8; turn++) {
    seen.push(...(await page.locator('.pupil-card b').allTextContents()));
    await button(page, 'More names').click();
  }
  expect(seen).toEqual(names);
  await button(page, 'I am not here').click();
  await says(page, 'Play a short tune on the bars.');
  await button(page, 'Teacher’s view').click();
  await choosePupil(page, 'Bird30');
  await toPupilView(page);
  await expect(page.locator('.pupil-here')).toHaveText('Bird30');
});
