import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright/test';
import { expect, goTo, keepCard, keepVersion, openDemo, test } from './app.ts';

const clean = async (page: Page, without: string[] = []): Promise<void> => {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .disableRules(without)
    .analyze();
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 160)).join(' | ')}`)).toEqual([]);
};

test('the first steps: five sentences, each done by doing it, and nothing in the frame moves', async ({
  page,
  address,
}) => {
  await page.setViewportSize({ width: 1280, height: 720 });
  await page.goto(address);
  const steps = page.getByRole('note', { name: 'First steps' });
  const feet = (): Promise<unknown> =>
    page.locator('header button, .frame-foot button').evaluateAll(all =>
      all.map(e => {
        const { x, y, width, height } = e.getBoundingClientRect();
        return [x, y, width, height].map(Math.round).join(' ');
      }),
    );
  await expect(steps).toContainText('1 of 5');
  await clean(page);
  for (const key of ['KeyA', 'KeyD', 'KeyG']) {
    await page.keyboard.press(key);
    await page.waitForTimeout(120);
  }
  await expect(steps).toContainText('2 of 5');
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(steps).toContainText('3 of 5');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await expect(steps).toContainText('4 of 5');
  // A reload in the middle: somebody goes on where the piece stands.
  await expect(page.getByText(/^✓ safe/)).toBeVisible();
  await page.reload();
  await expect(steps).toContainText('4 of 5');
  await keepCard(page, 'Repetition');
  await expect(steps).toContainText('5 of 5');
  const before = await feet();
  await page.getByRole('button', { name: 'Keep a version' }).click();
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
  await expect(steps).toHaveCount(0);
  expect(await feet()).toEqual(before);
  // The way is known now, on this machine.
  await page.reload();
  await expect(page.locator('.system svg').first()).toBeVisible();
  await page.getByRole('button', { name: /^Next/ }).click();
  await expect(page.locator('.instrument')).toBeVisible();
  await expect(steps).toHaveCount(0);
  // Until somebody wants to be led again, and has enough of it.
  await page.keyboard.press('?');
  await clean(page);
  await page.getByRole('button', { name: 'Show me the first steps' }).click();
  // Nobody was chosen: what was struck before can still be caught.
  await expect(steps).toContainText('2 of 5');
  // The pupil view has its own sentence, and no second one.
  await page.getByRole('button', { name: 'Pupil view' }).click();
  await expect(page.getByRole('button', { name: 'Catch it' })).toBeVisible();
  await expect(steps).toHaveCount(0);
  await page.getByRole('button', { name: 'Teacher’s view' }).click();
  await expect(steps).toContainText('2 of 5');
  await page.getByRole('button', { name: 'I know my way' }).click();
  await expect(steps).toHaveCount(0);
});

test('what a control means comes beside it: by mouse, by keyboard and by a long touch', async ({
  app: page,
}) => {
  const tip = page.locator('.help-tip');
  const lifted = page.getByLabel(/^Bars lifted off/);
  await lifted.hover();
  await expect(tip).toContainText('Without F and B');
  await expect(tip).toBeInViewport({ ratio: 1 });
  // The pointer may go onto it; a key takes it away.
  const box = await tip.boundingBox();
  await page.mouse.move((box?.x ?? 0) + 20, (box?.y ?? 0) + 10, { steps: 4 });
  await expect(tip).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(tip).toHaveCount(0);
  await page.mouse.move(600, 650);
  // A screen reader has the same words.
  await expect(lifted).toHaveAttribute('aria-description', /Without F and B/);
  await page.getByLabel(/^plays a/).focus();
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await expect(page.getByLabel(/^Click:/)).toBeFocused();
  await expect(tip).toContainText('is not recorded');
  await page.keyboard.press('Tab');
  await expect(tip).toContainText('Without F and B');
  // A finger that holds a button reads what it does, and does not press it.
  const pupil = page.getByRole('button', { name: 'Pupil view' });
  const touch = (type: string): Promise<void> =>
    pupil.dispatchEvent(type, { pointerType: 'touch', bubbles: true, pointerId: 7 });
  await touch('pointerdown');
  await expect(tip).toContainText('Only what a pupil needs');
  await touch('pointerup');
  await pupil.dispatchEvent('click');
  await expect(pupil).toBeVisible();
  // A short touch presses.
  await touch('pointerdown');
  await touch('pointerup');
  await pupil.dispatchEvent('click');
  await expect(pupil).toBeHidden();
});

test('with forced colours and with more contrast every place can be read', async ({ app: page }) => {
  const seen = (): Promise<string> =>
    page
      .locator('.system, .instrument .bar')
      .first()
      .evaluate(element => {
        for (let at: Element | null = element; at !== null; at = at.parentElement) {
          const { backgroundColor, backgroundImage, forcedColorAdjust } = getComputedStyle(at);
          if (matchMedia('(forced-colors: active)').matches && forcedColorAdjust !== 'none') return 'forced';
          if (backgroundImage !== 'none') return 'a picture';
          if (backgroundColor !== 'rgba(0, 0, 0, 0)') return backgroundColor;
        }
        return 'nothing';
      });
  const media = [{ forcedColors: 'active', colorScheme: 'dark' }, { contrast: 'more' }] as const;
  await openDemo(page, 'Ferry bell');
  // The browser forces backgrounds when it paints: axe would compare what is forced with what is not.
  const rules = [['color-contrast'], []];
  for (const [i, wanted] of media.entries()) {
    await page.emulateMedia({ forcedColors: 'none', colorScheme: 'light', ...wanted });
    await goTo(page, 'Play');
    // Bars are drawn, in wood.
    expect(await seen()).toBe('a picture');
    await clean(page, rules[i]);
    await goTo(page, 'Write');
    // Ink on white: notes are black whatever the system's colours are.
    expect(await seen()).toMatch(/rgb\(255, 25[45], 25[0-5]\)/);
    await clean(page, rules[i]);
    await goTo(page, 'Grow');
    if (i === 0) await keepCard(page, 'Canon');
    expect(await seen()).toMatch(/rgb\(255, 25[45], 25[0-5]\)/);
    await clean(page, rules[i]);
    await goTo(page, 'Keep');
    if (i === 0) await keepVersion(page);
    await clean(page, rules[i]);
  }
});

test('Escape closes a window, and the focus is where it was before', async ({ app: page }) => {
  const help = page.getByRole('button', { name: 'Help and all keys' });
  await help.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('dialog', { name: 'Help, keys and settings' })).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('dialog')).toBeHidden();
  await expect(help).toBeFocused();

  await openDemo(page, 'Ferry bell');
  const projector = page.getByRole('button', { name: 'Projector', exact: true });
  await projector.focus();
  await page.evaluate(() => {
    const seen = window as { focusAtFirst?: string | undefined };
    new MutationObserver(() => {
      if (document.querySelector('dialog') !== null) seen.focusAtFirst ??= document.activeElement?.className;
    }).observe(document.body, { childList: true, subtree: true });
  });
  await page.keyboard.press('Enter');
  const large = page.getByRole('dialog');
  await expect(large).toBeVisible();
  // The keys of a quick hand are the page's from its first moment: on the chooser of bars a Space would be lost.
  expect(await page.evaluate(() => (window as { focusAtFirst?: string | undefined }).focusAtFirst)).toBe(
    'projector-page',
  );
  // What sounds stops first, and the page stays.
  await page.keyboard.press('Space');
  await expect(large.getByRole('button', { name: 'Stop' })).toBeEnabled();
  await page.keyboard.press('Escape');
  await expect(large.getByRole('button', { name: 'Stop' })).toBeDisabled();
  await expect(large).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(large).toBeHidden();
  await expect(projector).toBeFocused();
});
