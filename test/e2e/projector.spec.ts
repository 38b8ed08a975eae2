import AxeBuilder from '@axe-core/playwright';
import { expect, keepCard, openDemo, test } from './app.ts';

// The projector view: the page alone, readable from the back of the room, driven by keys or a clicker.

test('one press: the page alone and large; it counts in, follows, and keys alone drive it', async ({
  app: page,
}) => {
  await openDemo(page, 'Ferry bell');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await page.keyboard.press('Escape');
  await page.locator('h1').click();
  await page.keyboard.press('p');
  const projector = page.getByRole('dialog', { name: 'Projector view' });
  await expect(projector.locator('.system svg').first()).toBeVisible();
  // A stave has at least 8.5 % of the height of the screen: the distance of its outer lines.
  const lines = await projector
    .locator('.system')
    .first()
    .evaluate(system =>
      [...system.querySelectorAll('svg *')]
        .map(element => element.getBoundingClientRect())
        .filter(box => box.width > 300 && box.height <= 3)
        .map(box => box.y)
        .sort((one, other) => one - other),
    );
  expect(lines.length).toBeGreaterThanOrEqual(5);
  expect(((lines[4] ?? 0) - (lines[0] ?? 0)) / 768).toBeGreaterThan(0.085);
  const smallest = await projector
    .locator('.bracket-text, .projector-head > b, .projector-bar')
    .evaluateAll(all => Math.min(...all.map(e => parseFloat(getComputedStyle(e).fontSize))));
  expect(smallest).toBeGreaterThanOrEqual(27);
  await expect(projector.locator('.bracket-text').first()).toHaveText('xylophone: the motif, four times');
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag22aa']).analyze();
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 120)).join(' | ')}`)).toEqual([]);

  // The bars of a part, if wanted: what comes first waits while the bar is counted.
  await projector.getByLabel(/^Bars:/).selectOption({ label: 'xylophone' });
  await expect(projector.locator('.projector-tone-bar:not(.unused)')).toHaveText(['C', 'D', 'E', 'G', 'A']);
  await expect(projector.locator('.comes-next + b')).toHaveText('C');
  // Space: a bar is counted, nothing moves on the page meanwhile; then the line runs.
  await page.keyboard.press('Space');
  await expect(projector.getByText('counting in')).toBeVisible();
  await expect(page.locator('.projector .cursor-line')).toHaveCount(0);
  await expect(projector.locator('.projector-beat.now')).toHaveText('2');
  await expect(projector.getByText('bar 1', { exact: true })).toBeVisible();
  await expect(page.locator('.projector .cursor-line')).toBeVisible();
  await expect(projector.locator('.projector-tone-bar.now .mallet-head')).toHaveCount(1);
  await page.keyboard.press('Space');
  await expect(page.locator('.projector .cursor-line')).toHaveCount(0);
  await expect(projector.getByRole('button', { name: 'Stop' })).toBeDisabled();

  // Played along from here: counted in, the part whose bars are shown left out, and how it went in large words.
  await projector.getByRole('button', { name: 'Play along' }).click();
  await expect(projector.getByText('counting in')).toBeVisible();
  await expect(projector.getByText('bar 1', { exact: true })).toBeVisible();
  await page.keyboard.press('KeyA');
  await page.keyboard.press('Space');
  await expect(projector.locator('.projector-said')).toContainText('Bar 1');
  await expect(projector.locator('.over g.noticed')).not.toHaveCount(0);

  const systems = projector.locator('.system');
  const count = await systems.count();
  expect(count).toBeGreaterThan(1);
  for (let i = 1; i < count; i++) await page.keyboard.press('PageDown');
  await expect(systems.last()).toBeInViewport({ ratio: 0.9 });
  for (let i = 1; i < count; i++) await page.keyboard.press('PageUp');
  await expect(systems.first()).toBeInViewport({ ratio: 0.9 });

  await page.keyboard.press('Escape');
  await expect(projector).toHaveCount(0);
  // Rehearsing goes on in Grow.
  await expect(page.getByRole('complementary', { name: 'Rehearse' })).toBeVisible();
});

test('a bracket pressed is heard from there; Leave stops it; Write has the view too', async ({
  app: page,
}) => {
  await openDemo(page, 'Ferry bell');
  const projector = page.getByRole('dialog', { name: 'Projector view' });
  await page.getByRole('button', { name: 'Projector' }).click();
  await expect(projector.locator('.system svg').first()).toBeVisible();
  await projector.getByRole('button', { name: 'Leave' }).click();
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await page.locator('.bracket').first().click();
  await keepCard(page, 'Another section');
  await page.getByRole('button', { name: 'Projector' }).click();
  await projector.locator('.bracket').last().scrollIntoViewIfNeeded();
  await projector.locator('.bracket').last().click();
  await expect(projector.getByText('counting in')).toBeVisible();
  await expect(projector.getByText(/^bar [2-9]/)).toBeVisible();
  await projector.getByRole('button', { name: 'Leave' }).click();
  await expect(projector).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeDisabled();
});
