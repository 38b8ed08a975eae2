import type { BrowserContext, Page } from 'playwright/test';
import { installFakeWebMidi } from '../fakes/webMidi.ts';
import { enterClass, expect, goTo, keepCard, pupilNow, test } from './app.ts';

// A whole lesson: thirty pupils, one machine, the window killed twice. In the end everybody's piece is in
// the register under the right name.

const PUPILS = `Badger Bittern Curlew Dunlin Fulmar Heron Lynx Magpie Otter Plover Wren Vole Teal Stork Raven
Puffin Quail Newt Moth Minnow Marten Linnet Kite Ibex Hare Grebe Falcon Elk Dipper Comet`.split(/\s+/);

/** Numbers from 0 to 1 from a seed, so that the lesson is the same each time (linear congruential). */
const chances = (seed: number) => (): number => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 2 ** 32;
};

const openWindow = async (context: BrowserContext, address: string): Promise<Page> => {
  const page = await context.newPage();
  await page.addInitScript(installFakeWebMidi as () => void);
  await page.goto(address);
  await expect(page.getByRole('navigation', { name: 'Places' })).toBeVisible();
  await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  return page;
};

/** Four strikes on the pad, as its driver stamps them: the last one now. */
const play = async (page: Page, pitches: readonly number[]): Promise<void> => {
  await expect(page.locator('.play-sentence')).toContainText('“Pad 25”');
  const heard = await page.evaluate(async struck => {
    const [port] = (await navigator.requestMIDIAccess()).inputs.keys();
    // Nobody plays before the pupil before has ended: a fast machine comes here sooner than the strikes take.
    const desk = window as { lastStruck?: number };
    // Nor before the window is there: a driver stamps nothing earlier than that.
    const early = (desk.lastStruck ?? 0) + 150 * struck.length - performance.now();
    if (early > 0) await new Promise(rest => setTimeout(rest, early));
    const now = performance.now();
    desk.lastStruck = now;
    return struck.map((pitch, i) =>
      window.fakeMidi.send(port ?? '', [0x90, pitch, 90], now - 150 * (struck.length - 1 - i)),
    );
  }, pitches);
  expect(heard).toEqual(pitches.map(() => true));
  await expect(page.locator('.catch-words').getByText(`${String(pitches.length)} strikes`)).toBeVisible();
};

test('a lesson: thirty takes, next pupil each time, the window killed twice, nothing lost', async ({
  context,
  address,
}) => {
  test.setTimeout(120_000);
  const began = Date.now();
  const chance = chances(10);
  let page = await openWindow(context, address);
  await enterClass(page, '8 Kestrel', PUPILS.join('\n'));
  const killedAt = [3 + Math.floor(chance() * 12), 16 + Math.floor(chance() * 12)];
  let killed = 0;

  for (const [i, codeName] of PUPILS.entries()) {
    await page.getByRole('button', { name: /^Next/ }).click();
    if (i === killedAt[killed]) {
      // Killed at any moment after the press: the step itself may be lost, nobody's work is.
      await page.waitForTimeout(chance() * 400);
      await page.close({ runBeforeUnload: false });
      page = await openWindow(context, address);
      killed += 1;
      if ((await pupilNow(page)) !== codeName)
        await page.getByRole('button', { name: `Next: ${codeName}` }).click();
    }
    expect(await pupilNow(page)).toBe(codeName);
    // Everybody's own tune, told apart by its first note.
    await play(page, [60 + (i % 24), 72, 76, 79]);
    await page.getByRole('button', { name: 'Catch that' }).click();
    await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
    if (i % 3 === 0) {
      await page.locator('h1').click();
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('Delete');
      await expect(page.getByRole('button', { name: /^Undo: / })).toBeVisible();
    }
    if (i % 6 === 1) {
      await page.getByRole('button', { name: 'Use this motif' }).click();
      await keepCard(page, 'Repetition');
    }
    if (i % 2 === 0) await page.getByRole('button', { name: 'Keep a version' }).click();
    expect(await pupilNow(page)).toBe(codeName);
  }
  expect(killed).toBe(2);

  await page.setViewportSize({ width: 1366, height: 2200 });
  await goTo(page, 'Keep');
  const lines = page.locator('.register tbody tr:not(.register-space)');
  await expect(lines).toHaveCount(PUPILS.length);
  await expect(page.getByText('15 of 30 have kept something')).toBeVisible();
  await expect(page.locator('.row-state.nothing')).toHaveCount(0);
  const shown = await lines.evaluateAll(all =>
    all.map(line => [
      line.querySelector('th')?.textContent ?? '',
      line.querySelectorAll('td')[2]?.textContent ?? '',
      line.querySelector('.row-state')?.classList[1] ?? '',
    ]),
  );
  const wanted = PUPILS.map((codeName, i) => [
    codeName,
    i % 6 === 1 ? 'repetition' : 'nothing added',
    i % 2 === 0 ? 'kept' : 'draft',
  ]);
  expect(shown).toEqual(wanted.sort((a, b) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1)));

  // On disk too, each under its own name and with its own first note.
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.getByRole('button', { name: /^Next/ }).click();
  const stored = () =>
    page.evaluate(async () => {
      const found: [string, number, number][] = [];
      const items = await (await navigator.storage.getDirectory()).getDirectoryHandle('items');
      for await (const item of items.values()) {
        if (item.kind !== 'directory' || item.name.startsWith('class-')) continue;
        const revisions = new Map<
          string,
          { parents: string[]; piece: { codeName: string; take: { strikes: { pitch: number }[] } } }
        >();
        for await (const file of item.values()) {
          if (file.kind !== 'file' || !file.name.endsWith('.json')) continue;
          const read = JSON.parse(await (await file.getFile()).text()) as {
            revision: string;
            parents: string[];
            piece: { codeName: string; take: { strikes: { pitch: number }[] } };
          };
          revisions.set(read.revision, read);
        }
        const parents = new Set([...revisions.values()].flatMap(one => one.parents));
        const heads = [...revisions.entries()].filter(([name]) => !parents.has(name));
        for (const [, { piece }] of heads)
          found.push([piece.codeName, piece.take.strikes[0]?.pitch ?? 0, heads.length]);
      }
      return found.sort((a, b) => (a[0] < b[0] ? -1 : 1));
    });
  await expect
    .poll(stored)
    .toEqual(
      PUPILS.map((codeName, i) => [codeName, 60 + (i % 24), 1]).sort((a, b) =>
        String(a[0]) < String(b[0]) ? -1 : 1,
      ),
    );
  console.log(`lesson: ${String(Math.round((Date.now() - began) / 1000))} s`);
});
