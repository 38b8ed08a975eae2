import type { Page } from 'playwright/test';
import { enterClass, expect, goTo, keepCard, openDemo, test } from './app.ts';

// The frame of the four places: what stands in header and foot never changes place or size with the state, the
// page is the largest thing, and it follows what is heard and what is chosen.

type Box = readonly [name: string, x: number, y: number, width: number, height: number];

/** Everything that can be pressed in header and foot, and where it is; a word may change, its box may not. */
const frame = (page: Page): Promise<Box[]> =>
  page
    .locator(
      'header .place, header .second, header .next, .frame-foot > .second, .frame-foot > .main-action, .volume',
    )
    .evaluateAll(all =>
      all.map((element, i): Box => {
        const { x, y, width, height } = element.getBoundingClientRect();
        return [`${String(i)} ${element.getAttribute('class') ?? ''}`, x, y, width, height];
      }),
    );

const hear = (page: Page) => page.getByRole('button', { name: 'Hear', exact: true });
const stop = (page: Page) => page.getByRole('button', { name: 'Stop', exact: true });
/** Pressed twice at the same spot, as somebody in haste does. */
const hearTwice = async (page: Page): Promise<void> => {
  await hear(page).click();
  await hear(page).click();
  await expect(stop(page)).toBeEnabled();
};

for (const [width, height] of [
  [1366, 768],
  [1280, 720],
  [1920, 1080],
  // A tablet on its side, and upright.
  [1024, 768],
  [820, 1180],
] as const) {
  test(`nothing in header or foot moves with the state, at ${String(width)} by ${String(height)}`, async ({
    app: page,
  }) => {
    await page.setViewportSize({ width, height });
    await enterClass(page, '8 Kestrel', 'Heron\nOtter');
    await goTo(page, 'Play');
    const still = async (before: Box[], where: string): Promise<void> => {
      expect(await frame(page), where).toEqual(before);
      const cut = before.filter(
        ([, x, y, wide, high]) => x < 0 || y < 0 || x + wide > width || y + high > height,
      );
      expect(cut, `${where}: inside the window`).toEqual([]);
    };

    const play = await frame(page);
    expect(play.length).toBeGreaterThan(10);
    await page.keyboard.press('a');
    await page.keyboard.press('d');
    await expect(hear(page)).toBeEnabled();
    await still(play, 'after strikes');
    await hearTwice(page);
    await still(play, 'while the phrase is heard');
    await stop(page).click();
    await page.getByLabel(/^Click:/).selectOption('on');
    await page.getByRole('button', { name: 'Start the click' }).click();
    await expect(stop(page)).toBeEnabled();
    await still(play, 'while the click runs');
    await stop(page).click();
    await expect(stop(page)).toBeDisabled();
    await page.getByRole('button', { name: 'Catch that' }).click();
    await expect(page.getByRole('region', { name: 'The page' }).locator('.system svg').first()).toBeVisible();

    const write = await frame(page);
    const words = await page.locator('.in-words li').allTextContents();
    await hearTwice(page);
    await still(write, 'while the page is heard');
    expect(await page.locator('.in-words li').allTextContents()).toEqual(words);
    await stop(page).click();
    await page.locator('.vf-stavenote .hit').first().click();
    await expect(page.getByRole('group', { name: 'Correct the chosen note' })).toBeVisible();
    await still(write, 'with a note chosen');
    await page.getByRole('button', { name: 'Higher', exact: true }).click();
    await expect(page.locator('.just-done')).toContainText('✓');
    await still(write, 'after a correction');
    // Said for three seconds, and then no more.
    await expect(page.locator('.just-done')).toHaveText('');

    await page.getByRole('button', { name: 'Use this motif' }).click();
    const grow = await frame(page);
    await page.locator('.treatment-try').filter({ hasText: 'Repetition' }).click();
    await expect(page.getByRole('button', { name: 'Write it in' })).toBeEnabled();
    await still(grow, 'while something is tried');
    await page.getByRole('button', { name: 'Write it in' }).click();
    await expect(page.getByRole('button', { name: 'Write it in' })).toBeDisabled();
    await still(grow, 'after it was written in');

    await goTo(page, 'Keep');
    const keep = await frame(page);
    await page.locator('.frame-foot').getByRole('button', { name: 'Keep a version' }).click();
    await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
    await still(keep, 'after a version was kept');
    // From place to place too: what is in all of them is at the same spot.
    const same = (boxes: Box[]): Box[] => boxes.filter(([name]) => /place|hear|stop|volume|next/.test(name));
    const spots = (boxes: Box[]): unknown => same(boxes).map(([, ...box]) => box);
    for (const other of [write, grow, keep]) expect(spots(other)).toEqual(spots(play));
  });
}

test('the page has the largest share of the screen, and the tools keep their room under every stave', async ({
  app: page,
}) => {
  await openDemo(page, 'Puddle jump');
  const tops = () => page.locator('.system').evaluateAll(all => all.map(e => e.getBoundingClientRect().top));
  const before = await tops();
  expect(before.length).toBeGreaterThan(1);
  await page.locator('.vf-stavenote .hit').first().click();
  const tools = page.getByRole('group', { name: 'Correct the chosen note' });
  await expect(tools).toBeVisible();
  expect(await tops()).toEqual(before);
  // The tools cover no stave: they end where the strike line of the next system begins.
  const box = await tools.boundingBox();
  const rail = await page.locator('.strike-rail').nth(1).boundingBox();
  expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThanOrEqual(rail?.y ?? 0);
  const share = async (name: string): Promise<number> =>
    ((await page.getByRole('region', { name }).boundingBox())?.height ?? 0) / 768;
  expect(await share('The page')).toBeGreaterThan(0.6);
  await page.getByRole('button', { name: 'Use this motif' }).click();
  expect(await share('The score')).toBeGreaterThan(0.6);
  await goTo(page, 'Keep');
  expect(await share('Class register')).toBeGreaterThan(0.6);
});

test('two whole systems of four parts are in sight, and nothing over the staves meets anything else', async ({
  app: page,
}) => {
  await openDemo(page, 'Ferry bell');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await keepCard(page, 'Canon');
  for (const part of ['marimba', 'vibraphone']) {
    await page.locator('.bracket').first().click();
    await page.getByLabel(/^Write it into/).selectOption({ label: `a new ${part}` });
    await keepCard(page, part === 'marimba' ? 'Augmentation' : 'Retrograde');
  }
  // All four bars again, from a rehearsal letter.
  await page.locator('.bracket').first().click();
  await keepCard(page, 'Another section');
  await page.locator('.scroll').evaluate(scroll => {
    scroll.scrollTop = 0;
  });
  await expect(page.locator('.system')).toHaveCount(2);
  await expect(page.locator('.part-handle')).toHaveCount(8);
  for (const handle of await page.locator('.part-handle').all())
    await expect(handle).toBeInViewport({ ratio: 1 });
  const { staves, met } = await page.evaluate(() => {
    const within = document.querySelector('.scroll')?.getBoundingClientRect();
    const paths = [...document.querySelectorAll('.system svg path')].map(p => p.getBoundingClientRect());
    const shown = [...document.querySelectorAll('.bracket-text, .part-handle, .rehearsal, .bar-number')].map(
      e => ({ name: e.textContent, box: e.getBoundingClientRect() }),
    );
    const pairs = shown.flatMap((a, i) =>
      shown
        .slice(i + 1)
        .filter(
          b =>
            a.box.left < b.box.right &&
            b.box.left < a.box.right &&
            a.box.top < b.box.bottom &&
            b.box.top < a.box.bottom,
        )
        .map(b => `${a.name} meets ${b.name}`),
    );
    return {
      staves: paths.every(p => p.bottom <= (within?.bottom ?? 0) + 1),
      met: pairs,
    };
  });
  expect([staves, met]).toEqual([true, []]);
});

test('the page follows: what is heard, what is tried, and the note that the keys choose', async ({
  app: page,
}) => {
  await openDemo(page, 'Tin roof');
  await page.locator('h1').click();
  const tools = page.getByRole('group', { name: 'Correct the chosen note' });
  const last = (await page.locator('.vf-stavenote .hit').count()) - 1;
  for (let i = 0; i <= last; i++) await page.keyboard.press('ArrowRight');
  await expect(page.locator('.selected-note')).toBeInViewport({ ratio: 1 });
  await expect(tools).toBeInViewport({ ratio: 0.95 });
  await page.keyboard.press('Escape');
  await expect(tools).toHaveCount(0);

  await page.getByRole('button', { name: 'Use this motif' }).click();
  await page.locator('.treatment-try').filter({ hasText: 'Repetition' }).click();
  await page.getByLabel(/^Play it/).selectOption('12');
  await page.getByRole('button', { name: 'Write it in' }).click();
  const from = page.getByLabel(/^Hear it from bar/);
  const bars = Number(await from.getAttribute('max'));
  await from.fill(String(bars - 1));
  await from.press('Tab');
  await stop(page).click();
  await expect(page.locator('.cursor-line')).toHaveCount(0);
  await page.locator('.system').first().scrollIntoViewIfNeeded();
  await expect(page.locator('.system').last()).not.toBeInViewport();
  await hear(page).click();
  await expect(page.locator('.cursor-line')).toBeInViewport();
  await stop(page).click();
  await keepCard(page, 'Second part');

  // A change of metre has no bracket: the bar from which it holds is shown, and heard.
  await page.locator('.system').first().scrollIntoViewIfNeeded();
  await expect(page.locator('.system').last()).not.toBeInViewport();
  await page.locator('.treatment-try').filter({ hasText: 'Another metre' }).click();
  await expect(page.getByLabel(`From bar ${String(bars)} on,`)).toBeVisible();
  await expect(page.locator('.system').last()).toBeInViewport();
  await expect(page.locator('.cursor-line')).toBeInViewport();
});

test('the sentence of every place is one row on the smallest screen, with a class of thirty', async ({
  app: page,
}) => {
  await page.setViewportSize({ width: 1280, height: 720 });
  const band = page.locator('.band, .play-sentence').first();
  const high = (): Promise<number> => band.evaluate(row => row.getBoundingClientRect().height);
  const names = Array.from({ length: 30 }, (_, i) => `Kestrel ${String(i + 1)}`);
  await enterClass(page, '8 Kestrel', names.join('\n'));
  expect(await high()).toBe(56);
  await goTo(page, 'Play');
  expect(await high()).toBe(56);
  // With everything a click asks for, too: no bar moves when it is switched.
  await page.getByRole('button', { name: /^Next/ }).click();
  await page.getByLabel(/^Click:/).selectOption('on');
  await page.getByLabel(/^Bars lifted off/).selectOption('5,11');
  expect(await high()).toBe(56);
  await page.getByLabel(/^Click:/).selectOption('off');
  await openDemo(page, 'Late for lunch');
  expect(await high()).toBe(56);
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await expect(page.getByRole('button', { name: 'Rehearse' })).toBeVisible();
  expect(await high()).toBe(56);
});
