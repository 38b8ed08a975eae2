import { expect, goTo, inWords, openDemo, test, hearIn, moreSettings } from './app.ts';
import { openTake, type Struck } from './takeFile.ts';

const words = async (page: Parameters<typeof inWords>[0]): Promise<string> => (await inWords(page)).join(' ');
/** The same idea three times, its second note played half way between two places. */
const thrice: readonly Struck[] = [0, 4, 8].flatMap(bar => [
  [bar, 72] as const,
  [bar + 0.63, 74] as const,
  [bar + 1, 76] as const,
  [bar + 2, 79] as const,
  [bar + 3, 76] as const,
]);

test('a correction is followed by the repeats, visibly; only here takes that back', async ({ app: page }) => {
  await openTake(page, { bpm: 96, click: true, strikes: thrice });
  const before = await words(page);
  expect(before).toContain('C5 quaver; D5 quaver; E5 crotchet');
  await page.locator('.vf-stavenote').nth(1).click();
  await page.keyboard.press('Alt+ArrowRight');
  await expect(page.locator('.followed-words')).toContainText('2 other notes followed.');
  await expect(page.locator('.followed-note')).toHaveCount(2);
  expect((await words(page)).match(/C5 dotted quaver; D5 semiquaver/g)).toHaveLength(3);
  await page.getByRole('button', { name: 'Only here' }).click();
  expect((await words(page)).match(/C5 dotted quaver; D5 semiquaver/g)).toHaveLength(1);
  await page.getByRole('button', { name: /^Undo: move D5 later, only here/ }).click();
  expect(await words(page)).toBe(before);
});

test('a note that was put in its place stays there whatever else changes, until it is let go', async ({
  app: page,
}) => {
  await openTake(page, { bpm: 96, click: true, strikes: thrice });
  await page.locator('.vf-stavenote').nth(1).click();
  await page.getByLabel(/^at bar 1/).selectOption('3/16');
  await expect.poll(() => words(page)).toContain('C5 dotted quaver; D5 semiquaver');
  await moreSettings(page);
  await page.getByLabel(/^Swing tolerance/).selectOption('high');
  await expect(page.getByRole('button', { name: /^Undo: swing/ })).toBeVisible();
  expect(await words(page)).toContain('C5 dotted quaver; D5 semiquaver');
  await page.getByRole('button', { name: 'Let it go' }).click();
  await expect(page.getByRole('button', { name: /^Undo: let D5 go/ })).toBeVisible();
  // Its repeats were put there with it, and go with it.
  expect(await words(page)).not.toContain('C5 dotted quaver; D5 semiquaver');
});

test('a bar that is kept stays as it is written when everything else is read anew', async ({ app: page }) => {
  await openTake(page, { bpm: 96, click: true, strikes: thrice });
  await page.locator('.vf-stavenote').nth(1).click();
  await page.getByRole('button', { name: 'keep this bar' }).click();
  await expect(page.getByRole('button', { name: /^Undo: keep bar 1/ })).toBeVisible();
  await moreSettings(page);
  await page.getByLabel(/^Smallest value/).selectOption('beat');
  await expect(page.getByRole('button', { name: /^Undo: smallest value/ })).toBeVisible();
  expect(await words(page)).toContain('Bar 1: C5 quaver; D5 quaver; E5 crotchet');
});

for (const way of ['mouse', 'touch'] as const) {
  test.describe(way, () => {
    test.use({ hasTouch: way === 'touch' });
    test(`the mark of a strike is pulled to another place by ${way}`, async ({ app: page }) => {
      await openTake(page, { bpm: 96, click: true, strikes: thrice });
      const grip = page.locator('.strike-grip[data-strike="1"]');
      const box = await grip.boundingBox();
      const next = await page.locator('.strike-grip[data-strike="2"]').boundingBox();
      if (box === null || next === null) throw new Error('no marks');
      const y = box.y + box.height / 2;
      const from = box.x + box.width / 2;
      const to = from + (next.x - box.x) * 0.45;
      if (way === 'mouse') {
        await page.mouse.move(from, y);
        await page.mouse.down();
        await page.mouse.move((from + to) / 2, y, { steps: 4 });
        await page.mouse.move(to, y, { steps: 4 });
        await expect(page.locator('.strike-ghost-text')).toHaveText('bar 1, 1 a');
        await page.mouse.up();
      } else {
        const touch = await page.context().newCDPSession(page);
        const at = (x: number): { touchPoints: { x: number; y: number }[] } => ({ touchPoints: [{ x, y }] });
        await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', ...at(from) });
        for (let i = 1; i <= 6; i++)
          await touch.send('Input.dispatchTouchEvent', {
            type: 'touchMove',
            ...at(from + ((to - from) * i) / 6),
          });
        await expect(page.locator('.strike-ghost-text')).toHaveText('bar 1, 1 a');
        await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
      }
      await expect.poll(() => words(page)).toContain('C5 dotted quaver; D5 semiquaver');
      await expect(page.locator('.strike .pinned')).toHaveCount(3);
    });
  });
}

test('the beat is tapped while the take replays', async ({ app: page }) => {
  // Played without a click at 96; tapped as minims, which no reading would choose by itself.
  await openTake(page, { bpm: 96, click: false, strikes: thrice });
  await moreSettings(page);
  await page.getByRole('button', { name: 'tap the beat' }).click();
  await expect(page.getByText('Listen, and tap along.')).toBeVisible();
  const line = page.locator('.cursor-line');
  await expect(line).toBeVisible();
  // 1.25 s a minim, on the page's own clock.
  await page.evaluate(async () => {
    const start = performance.now() + 100;
    for (let i = 0; i < 5; i++) {
      await new Promise(resolve => setTimeout(resolve, start + 1250 * i - performance.now()));
      window.dispatchEvent(new KeyboardEvent('keydown', { key: ' ', bubbles: true, cancelable: true }));
    }
  });
  await page.getByRole('button', { name: 'That is the beat' }).click();
  await moreSettings(page);
  await expect(page.getByRole('button', { name: 'as tapped; tap again' })).toBeVisible();
  const tempo = Number(await page.locator('.band .sentence b').first().textContent());
  expect(tempo).toBeGreaterThan(40);
  expect(tempo).toBeLessThan(56);
  await page.getByRole('button', { name: 'forget the taps' }).click();
  await expect(page.getByRole('button', { name: 'tap the beat' })).toBeVisible();
});

test('too few taps are said to be too few, and nothing changes', async ({ app: page }) => {
  await openDemo(page, 'Ferry bell');
  const before = await words(page);
  await moreSettings(page);
  await page.getByRole('button', { name: 'tap the beat' }).click();
  await page.keyboard.press('Space');
  await expect(page.getByRole('button', { name: 'That is the beat' })).toBeDisabled();
  await expect(page.getByRole('button', { name: 'Hear', exact: true })).toBeDisabled();
  await page.keyboard.press('Escape');
  await expect(page.getByRole('group', { name: 'Tap the beat' })).toHaveCount(0);
  expect(await words(page)).toBe(before);
  // Stop ends the tapping too, not only the take.
  await moreSettings(page);
  await page.getByRole('button', { name: 'tap the beat' }).click();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect(page.getByRole('group', { name: 'Tap the beat' })).toHaveCount(0);
  expect(await words(page)).toBe(before);
});

test('the take and the page at once, a bar over and over, slower, with a click', async ({ app: page }) => {
  await openDemo(page, 'Ferry bell');
  await page.getByLabel(', all of it').selectOption('2');
  await page.getByLabel(/speed$/).selectOption('50');
  await page.getByLabel(/no click/).selectOption('with');
  await hearIn(page, 'both');
  const line = page.locator('.cursor-line');
  await expect(line).toBeVisible();
  const at = (): Promise<number> => line.evaluate(e => e.getBoundingClientRect().x);
  const bars = await page
    .locator('.vf-stavenote')
    .evaluateAll(all => all.map(e => e.getBoundingClientRect().x));
  const seen: number[] = [];
  // Bar 2 at 92 half as fast lasts 5.2 s: it begins again, and never leaves the bar.
  await expect
    .poll(
      async () => {
        seen.push(await at());
        return seen.some((x, i) => i > 0 && x < (seen[i - 1] ?? 0) - 50);
      },
      { timeout: 20_000, intervals: [250] },
    )
    .toBe(true);
  expect(Math.min(...seen)).toBeGreaterThan(bars[8] ?? Infinity);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
});

test('walking through the ways to write it plays each, and says what is unlike the page', async ({
  app: page,
}) => {
  await openDemo(page, 'Tin roof');
  const choices = page.locator('.reading-choose');
  await choices.first().focus();
  await page.keyboard.press('ArrowDown');
  await expect(choices.nth(1)).toBeFocused();
  await expect(page.locator('.cursor-line')).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(page.getByText(/unlike the page/).first()).toBeVisible();
  expect(await page.locator('.differs').count()).toBeGreaterThan(0);
  await choices.nth(1).focus();
  await page.keyboard.press('Enter');
  await expect(choices.nth(1)).toHaveAttribute('aria-pressed', 'true');
});

test('any key and mode; the motif cut from chosen notes, and a second motif', async ({ app: page }) => {
  await openDemo(page, 'Late for lunch');
  await page.getByLabel(/^Key, /).selectOption('other');
  await page.getByLabel('Key: C').selectOption('D');
  await page.locator('.sentence select').filter({ hasText: 'mixolydian' }).selectOption('mixolydian');
  await expect.poll(async () => (await inWords(page))[0]).toContain('D mixolydian');
  await page.locator('.vf-stavenote').nth(0).click();
  await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Shift+ArrowRight');
  await page.getByRole('button', { name: 'make it the chosen notes' }).click();
  await expect(page.getByText('some of its notes')).toBeVisible();
  await page.keyboard.press('Escape');
  await page.locator('.vf-stavenote').nth(6).click();
  await page.keyboard.press('Shift+ArrowRight');
  await page.getByRole('button', { name: 'another motif from them' }).click();
  await moreSettings(page);
  await expect(page.getByText(/Motif 2: bar 2/)).toBeVisible();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  const grown = await words(page);
  expect(grown).toContain('Bar 1: G4 quaver; A4 quaver; C5');
  expect(grown).not.toContain('E5');
  await goTo(page, 'Write');
});

test('a device is lined up with the click; strikes are counted, and what is known of it is remembered', async ({
  app: page,
}) => {
  // What is found from the strikes is measured without a sound card in test/desk/acts/calibration.test.ts.
  const id = await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  await moreSettings(page);
  await page.getByRole('button', { name: 'not lined up with the click' }).click();
  await page.getByRole('button', { name: 'Start the click' }).click();
  await expect(page.getByText(/seconds left/)).toBeVisible();
  for (let i = 0; i < 22; i++)
    await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 72, 90], performance.now()), id);
  await expect(page.getByText('22 strikes so far')).toBeVisible();
  await page.getByRole('dialog').getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByText(/seconds left/)).toBeHidden();
  await page.evaluate(() => {
    localStorage.setItem('malletloom.lateness', JSON.stringify({ 'Pad 25': 23 }));
  });
  await page.reload();
  await moreSettings(page);
  await page.getByRole('button', { name: 'lined up with the click', exact: true }).click();
  await expect(page.getByText('Pad 25: 23 ms after the click')).toBeVisible();
  await page.getByRole('button', { name: 'forget' }).click();
  await expect(page.getByText('Pad 25: 23 ms')).toBeHidden();
});

test('American note names everywhere, the reasons of the readings too; pitches keep their capital in Undo', async ({
  app: page,
}) => {
  await openTake(page, { bpm: 120, click: true, strikes: [0, 0.5, 1, 2, 3].map(at => [at, 72] as const) });
  const aside = page.getByRole('complementary', { name: 'Ways to write it' });
  await expect(aside).toContainText('Quavers and longer');
  await page.getByRole('button', { name: 'Help and all keys' }).click();
  await page.getByLabel('American note names').check();
  await page.getByRole('button', { name: 'Close' }).click();
  await expect(aside).toContainText('Eighth notes and longer');
  expect(await page.locator('main').textContent()).not.toMatch(/quaver|crotchet|minim|semibreve/i);
  await page.locator('h1').click();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Alt+ArrowUp');
  await expect(page.getByRole('button', { name: 'Undo: C5 to D5', exact: true })).toBeVisible();
});

test('notes are left to ring where the teacher wants no rests', async ({ app: page }) => {
  await openTake(page, { bpm: 96, click: true, strikes: [...thrice.slice(0, 3), [4, 72], [8, 72]] });
  expect(await words(page)).toContain('rest');
  await moreSettings(page);
  await page.getByLabel(/^Short notes/).selectOption('ring');
  await expect.poll(() => words(page)).toContain('E5 crotchet, tied; E5 minim');
  await page.getByRole('button', { name: /^Undo: let notes ring/ }).click();
  await expect.poll(() => words(page)).toContain('rest');
});

test('ten seconds of silence, then the first beat by its key: bars of rest, and nothing stands still', async ({
  app: page,
}) => {
  const strikes: readonly Struck[] = [0, 1, 17, 18, 19, 20, 20.5, 21].map((at, i) => [at, 72 + (i % 3) * 2]);
  await openTake(page, { bpm: 96, click: true, strikes });
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
  await page.keyboard.press('1');
  await expect(page.getByRole('button', { name: /^Undo: first beat on/ })).toBeVisible();
  const bars = await inWords(page);
  expect(bars.slice(2)).toEqual([
    'Upbeat: C5 crotchet',
    'Bar 1: D5 crotchet; crotchet rest; minim rest',
    ...[2, 3, 4].map(bar => `Bar ${String(bar)}: whole-bar rest`),
    'Bar 5: E5 crotchet; C5 crotchet; D5 crotchet; E5 quaver; C5 quaver',
    'Bar 6: D5 crotchet; crotchet rest; minim rest',
  ]);
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('button', { name: /^Redo: first beat on/ })).toBeVisible();
});
