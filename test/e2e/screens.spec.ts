import type { Page } from 'playwright/test';
import { choosePupil, enterClass, expect, goTo, keepVersion, moreSettings, openDemo, test } from './app.ts';

// What holds for every screen, whatever is on it: the page never scrolls by itself, nothing that can be pressed lies
// beyond the window or under something else, no word of a control is cut, and a window that is seen is open.

/** What is wrong with what is shown now, by name; of an open dialog only what is in it. */
const wrongOn = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const [wide, high] = [window.innerWidth, window.innerHeight];
    const nameOf = (e: Element): string =>
      `${e.getAttribute('class') ?? e.tagName} “${(e.getAttribute('aria-label') ?? e.textContent).trim().slice(0, 50)}”`;
    const shows = (e: Element): boolean => {
      const { visibility, opacity } = getComputedStyle(e);
      const { width, height } = e.getBoundingClientRect();
      return (
        visibility !== 'hidden' && opacity !== '0' && width > 2 && height > 2 && e.closest('.unseen') === null
      );
    };
    /** What an element can be scrolled in, if anything. */
    const frameOf = (e: Element): DOMRect => {
      for (let p = e.parentElement; p !== null; p = p.parentElement)
        if (/auto|scroll/.test(getComputedStyle(p).overflowY)) return p.getBoundingClientRect();
      return new DOMRect(0, 0, wide, high);
    };
    const { scrollWidth, scrollHeight } = document.documentElement;
    if (scrollWidth > wide || scrollHeight > high)
      found.push(`the page scrolls: ${String(scrollWidth)} by ${String(scrollHeight)}`);
    const root = [...document.querySelectorAll('dialog[open], [role=dialog]')].at(-1) ?? document.body;
    for (const e of root.querySelectorAll('button, select, input, textarea, a, summary')) {
      if (!shows(e)) continue;
      const frame = frameOf(e);
      const { left, right, top, bottom } = e.getBoundingClientRect();
      if (left < frame.left - 1 || right > frame.right + 1) found.push(`beyond the side: ${nameOf(e)}`);
      if (frame.height === high && (top < -1 || bottom > high + 1))
        found.push(`beyond the window: ${nameOf(e)}`);
      const [x, y] = [(left + right) / 2, (top + bottom) / 2];
      const isSeen = x > frame.left && x < frame.right && y > frame.top && y < frame.bottom;
      const at = isSeen ? document.elementFromPoint(x, y) : null;
      const isMine =
        at === null || e.contains(at) || at.contains(e) || e.closest('label')?.contains(at) === true;
      if (!isMine) found.push(`under ${nameOf(at)}: ${nameOf(e)}`);
      // Names that people type may be long and end in “…”; a bar's own ring goes beyond it.
      const isCut = e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).textOverflow !== 'ellipsis';
      if (e.tagName === 'BUTTON' && isCut && e.closest('.instrument') === null)
        found.push(`cut: ${nameOf(e)}`);
      if (e instanceof HTMLSelectElement) {
        const style = getComputedStyle(e);
        const pen = document.createElement('canvas').getContext('2d');
        if (pen === null) continue;
        pen.font = style.font;
        const room = e.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
        const words = e.selectedOptions[0]?.textContent ?? '';
        if (pen.measureText(words).width > room + 2) found.push(`cut: “${words}”`);
      }
    }
    return found;
  });

/** Notes every window that stood in the page before it was open: keys pressed meanwhile would go elsewhere. */
const watchWindows = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const seen = window as { windows?: number; windowsLate?: string[] };
    seen.windowsLate = [];
    seen.windows = 0;
    new MutationObserver(changes => {
      for (const e of changes.flatMap(change => [...change.addedNodes])) {
        const dialog =
          e instanceof HTMLDialogElement ? e : e instanceof Element ? e.querySelector('dialog') : null;
        if (dialog === null) continue;
        seen.windows = (seen.windows ?? 0) + 1;
        if (!dialog.matches(':modal')) seen.windowsLate?.push(dialog.outerHTML.slice(0, 80));
      }
    }).observe(document.body, { childList: true, subtree: true });
  });

for (const [width, height] of [
  [1280, 720],
  [1024, 768],
  [820, 1180],
] as const) {
  test(`nothing is cut, covered or out of reach on any screen at ${String(width)} by ${String(height)}`, async ({
    app: page,
  }) => {
    test.setTimeout(120_000);
    await page.setViewportSize({ width, height });
    const button = (name: string | RegExp) =>
      page.getByRole('button', { name, exact: typeof name === 'string' }).first();
    const well = async (where: string): Promise<void> => {
      await expect.poll(() => wrongOn(page), { message: where }).toEqual([]);
    };
    await well('Play, empty');
    await watchWindows(page);
    await enterClass(
      page,
      '8 Kestrel',
      Array.from({ length: 30 }, (_, i) => `Bird${String(i + 10)}`).join('\n'),
    );
    await well('the register of a class');
    await button('Class list').click();
    await well('the class list');
    await page.keyboard.press('Escape');
    await choosePupil(page, 'Bird15');
    await page.locator('button.pupil-word').click();
    await well('the chooser');
    await page.keyboard.press('Escape');
    await moreSettings(page);
    await well('more settings of Play');
    await page.keyboard.press('Escape');
    await button('choose').click();
    await well('lifting bars');
    await openDemo(page, 'Ferry bell');
    await well('Write');
    await page.locator('.vf-stavenote .hit').nth(1).click();
    await well('a note of Write');
    await moreSettings(page);
    await well('more settings of Write');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    await button('Use this motif').click();
    await well('Grow');
    const cards = page.locator('.treatment-try');
    const titles = await cards.allTextContents();
    expect(titles.length).toBeGreaterThan(15);
    for (const [i, title] of titles.entries()) {
      await cards.nth(i).click();
      await well(`the card ${title}`);
      const keep = button('Write it in');
      if (i % 5 === 1 && (await keep.isEnabled())) await keep.click();
      else await page.keyboard.press('Escape');
      await page.keyboard.press('Escape');
    }
    await button('Parts and bars').click();
    await well('parts and bars');
    await button('Rehearse').click();
    await well('Rehearse');
    await page.keyboard.press('Escape');
    await goTo(page, 'Keep');
    await keepVersion(page);
    await page.getByPlaceholder('words').fill('Ferry');
    await button(/^Hand on /).click();
    await well('what a piece is handed on by');
    await button(/^Find others like it/).click();
    await well('pieces alike');
    await button('Show all').click();
    await page.getByPlaceholder('words').fill('Ferry');
    await button(/^Hand on /).click();
    await button(/^Versions/).click();
    await well('versions');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Escape');
    await page.keyboard.press('?');
    await well('help');
    await page.keyboard.press('Escape');
    await goTo(page, 'Play');
    await button('Pupil view').click();
    await well('the pupil view');
    const { windows, windowsLate } = await page.evaluate(() => {
      const seen = window as { windows?: number; windowsLate?: string[] };
      return { windows: seen.windows, windowsLate: seen.windowsLate };
    });
    expect(windowsLate).toEqual([]);
    expect(windows).toBeGreaterThan(3);
  });
}
