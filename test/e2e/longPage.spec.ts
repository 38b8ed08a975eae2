import { expect, goTo, test } from './app.ts';
import { openTake, type Struck } from './takeFile.ts';

/** Bars of six strikes, no two alike, so that there is no repeat to read. */
const bars = (count: number): readonly Struck[] =>
  Array.from({ length: count }, (_, bar) =>
    [0, 0.5, 1, 2, 3, 3.5].map((at, i): Struck => [
      bar * 4 + at,
      60 + ((bar * bar * 31 + bar * 7 + i * 5) % 24),
    ]),
  ).flat();

test('a page of 250 bars is corrected at its end without leaving it, survives a reload and an undo', async ({
  app: page,
}) => {
  await openTake(page, { bpm: 96, click: true, strikes: bars(250) });
  const systems = page.locator('.sheet .system');
  // The short staves beside the page are drawn before it; of a long page first what can be seen, then the rest.
  await expect(systems.first()).toBeVisible();
  await expect.poll(() => systems.count()).toBeGreaterThan(50);
  const count = await systems.count();
  // Above the page before there is nothing of it, and the words come when they are asked for.
  await expect(page.locator('.in-words li')).toHaveCount(0);
  const last = systems.last();
  await last.scrollIntoViewIfNeeded();
  const note = last.locator('.vf-stavenote').last();
  await note.click();
  const scroll = page.locator('.sheet .scroll');
  const before = await scroll.evaluate(e => e.scrollTop);
  await page.keyboard.press('Alt+ArrowLeft');
  await expect(page.getByRole('button', { name: /^Undo: move .* earlier/ })).toBeVisible();
  await expect(page.locator('.selected-note')).toHaveCount(1);
  await expect(systems).toHaveCount(count);
  expect(Math.abs((await scroll.evaluate(e => e.scrollTop)) - before)).toBeLessThan(60);
  await page.getByText('The same in words').click();
  await expect(page.locator('.in-words li').last()).toContainText('semiquaver');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.in-words li').last()).not.toContainText('semiquaver');
  await page.reload();
  await expect(page.getByRole('button', { name: 'Use this motif' })).toBeVisible();
  await expect(systems).toHaveCount(count);
  // Another place and back: the page is there at once.
  await goTo(page, 'Play');
  await goTo(page, 'Write');
  await expect(systems).toHaveCount(count);
  // In Grow what is tried comes into view, though its page is laid out a little later.
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await page.getByRole('button', { name: 'Repetition', exact: true }).click();
  await expect(page.locator('.bracket.tried').first()).toBeInViewport();
  await page.getByRole('button', { name: 'Write it in' }).click();
  await expect(page.locator('.bracket.tried')).toHaveCount(0);
  await expect(page.getByRole('button', { name: /^Undo: / })).toBeVisible();
  // What goes wrong in the middle of the work is said in the place of the page, not lost with its slice.
  await page.evaluate(() => {
    const own = Object.getOwnPropertyDescriptor(Element.prototype, 'replaceChildren') ?? {};
    Object.defineProperty(Element.prototype, 'replaceChildren', {
      ...own,
      value(this: Element, ...nodes: Node[]) {
        if (this.ariaLabel?.startsWith('The take in notation') === true) {
          Object.defineProperty(Element.prototype, 'replaceChildren', own);
          throw new Error('no room for the systems');
        }
        for (const old of [...this.childNodes]) old.remove();
        this.append(...nodes);
      },
    });
  });
  await goTo(page, 'Write');
  await expect(page.getByRole('alert')).toContainText('Write could not be shown.');
  await page.getByRole('button', { name: 'Show it again' }).click();
  await expect(systems).toHaveCount(count);
});
