import { readFileSync } from 'node:fs';
import AxeBuilder from '@axe-core/playwright';
import { parseMidi } from 'midi-file';
import type { Page } from 'playwright/test';
import { expect, goTo, keepCard, moreFiles, test } from './app.ts';
import { grow } from './grown.ts';

// Playing along: what is struck while the piece sounds is laid on what is written, on the clock of what leaves
// the loudspeaker. The test reckons the moment of the first beat by itself, from the times the clicks of the
// count were given to the audio clock (Web Audio starts a source at that very time) and from what the browser
// says of its output.

/** How late the device of this test reports its strikes, in ms; lined up with the click before. */
const LATE = 40;
/** The idea of `grown.ts` as it is written: onset in seconds at crotchet = 120, written pitch. */
const WRITTEN: readonly (readonly [seconds: number, pitch: number])[] = [
  [0, 72],
  [0.25, 76],
  [0.75, 79],
  [1.25, 76],
  [1.5, 74],
];

/** Notes when sources start, and which context they belong to. */
const watchStarts = (): void => {
  const seen: { when: number; context: AudioContext }[] = [];
  Object.assign(window, { started: seen });
  // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own node below
  const { start } = AudioBufferSourceNode.prototype;
  AudioBufferSourceNode.prototype.start = function (when = 0, ...more) {
    seen.push({ when, context: this.context as AudioContext });
    start.call(this, when, ...more);
  };
  localStorage.setItem('malletloom.lateness', JSON.stringify({ 'Pad 25': 40, 'Keys 49': 0 }));
};

/** Strikes a device at moments of the music, each handed over just after it, with its own time. */
const strikeAlong = async (
  page: Page,
  device: string,
  strikes: readonly { readonly at: number; readonly pitch: number }[],
  beat: number,
  late: number,
): Promise<void> =>
  page.evaluate(
    async ({ device, strikes, beat, late }) => {
      const { started } = window as unknown as { started: { when: number; context: AudioContext }[] };
      // Four beats are counted: the music begins one beat after the fourth.
      while (started.length === 0) await new Promise(resolve => setTimeout(resolve, 5));
      const [first] = started;
      if (first === undefined) throw new Error('no click');
      // The audio clock of a busy machine falls behind now and then: the tie is reckoned up to each strike.
      const offsets: number[] = [];
      const look = (): number => {
        const { contextTime = 0, performanceTime = 0 } = first.context.getOutputTimestamp();
        offsets.push(performanceTime - contextTime * 1000);
        const last = offsets.slice(-25).sort((a, b) => a - b);
        return last[Math.floor(last.length / 2)] ?? 0;
      };
      for (const { at, pitch } of strikes) {
        const heard = (first.when + 4 * beat + at) * 1000 + late;
        let due = heard + look();
        while (performance.now() < due) {
          await new Promise(resolve => setTimeout(resolve, 8));
          due = heard + look();
        }
        window.fakeMidi.send(device, [0x90, pitch, 90], due);
      }
    },
    { device, strikes, beat, late },
  );

const begin = async (page: Page): Promise<void> => {
  await page.evaluate(() => {
    (window as unknown as { started: unknown[] }).started.length = 0;
  });
  await page.getByRole('button', { name: 'Play along' }).click();
};

const open = async (page: Page): Promise<string> => {
  await page.addInitScript(watchStarts);
  await page.reload();
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeVisible();
  const pad = await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  await grow(page);
  await page.getByRole('button', { name: 'Rehearse' }).click();
  await expect(page.getByRole('complementary', { name: 'Rehearse' })).toBeVisible();
  return pad;
};

const setSpeed = async (page: Page, speed: number): Promise<void> => {
  const field = page.getByRole('spinbutton', { name: /^At/ });
  await field.fill(String(speed));
  await field.press('Tab');
};

const marks = (page: Page): Promise<{ kind: string | null; off: number }[]> =>
  page
    .locator('.over g.noticed')
    .evaluateAll(all =>
      all.map(mark => ({ kind: mark.getAttribute('data-kind'), off: Number(mark.getAttribute('data-off')) })),
    );

for (const speed of [40, 80, 120]) {
  test(`at ${String(speed)} %: struck exactly, all is in its place to 5 ms; one stroke 60 ms late is late`, async ({
    app: page,
  }) => {
    test.setTimeout(60_000);
    const pad = await open(page);
    await setSpeed(page, speed);
    const share = speed / 100;
    const exact = WRITTEN.map(([at, pitch]) => ({ at: at / share, pitch }));
    const outcome = page.getByRole('region', { name: 'How it went' });
    // At one speed all is exact first; at every speed four strokes are, and the fifth is late.
    if (speed === 120) {
      await begin(page);
      await strikeAlong(page, pad, exact, 0.5 / share, LATE);
      await expect(outcome).toContainText('Every stroke was in its place.');
      const found = await marks(page);
      expect(found.map(mark => mark.kind)).toEqual(WRITTEN.map(() => 'in place'));
      for (const { off } of found) expect(Math.abs(off)).toBeLessThan(5);
    }

    await begin(page);
    await expect(outcome).toHaveCount(0);
    const late = exact.map((stroke, i) => (i === 3 ? { ...stroke, at: stroke.at + 0.06 } : stroke));
    await strikeAlong(page, pad, late, 0.5 / share, LATE);
    await expect(outcome).toContainText('Bar 1: one stroke late.');
    const again = await marks(page);
    expect(again.map(mark => mark.kind)).toEqual(['in place', 'in place', 'in place', 'late', 'in place']);
    again.forEach(({ off }, i) => {
      expect(Math.abs(off - (i === 3 ? 60 : 0))).toBeLessThan(5);
    });
  });
}

test('keys alone: a bar left out is told, practised slower and over and over; nothing is stored; axe is content', async ({
  app: page,
}) => {
  test.setTimeout(90_000);
  await grow(page);
  await keepCard(page, 'Repetition');
  await page.getByRole('button', { name: 'Rehearse' }).focus();
  await page.keyboard.press('Enter');
  const steps = await page.getByRole('button', { name: 'Undo' }).getAttribute('title');
  const brackets = await page.locator('.bracket').count();
  await setSpeed(page, 120);
  await page.getByLabel(/^After the count/).selectOption('none');
  await page.getByLabel(/^to bar/).selectOption('0');
  const main = page.getByRole('button', { name: 'Play along' });
  await main.focus();
  await page.keyboard.press('Enter');
  await expect(page.locator('.rehearsal-count')).toContainText('counting in');
  // Letters strike bars now, and copy or show nothing.
  await expect(page.locator('.rehearsal-count')).toContainText('bar 1');
  await page.keyboard.press('KeyK');
  await page.keyboard.press('KeyC');
  await page.keyboard.press('KeyP');
  const outcome = page.getByRole('region', { name: 'How it went' });
  await expect(outcome).toContainText('Bar 1');
  await expect(page.getByRole('dialog')).toHaveCount(0);
  await expect(page.locator('.bracket')).toHaveCount(brackets);
  expect(await page.getByRole('button', { name: 'Undo' }).getAttribute('title')).toBe(steps);
  const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa', 'wcag22aa']).analyze();
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 120)).join(' | ')}`)).toEqual([]);

  await outcome.getByRole('button', { name: 'Practise bar 1, slower' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('spinbutton', { name: /^At/ })).toHaveValue('100');
  await expect(page.locator('.rehearsal-count')).toContainText('counting in');
  await page.keyboard.press('Escape');
  await expect(page.locator('.rehearsal-count')).toHaveCount(0);
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeDisabled();

  // What was struck along is remembered, and is no idea to be caught unless it is chosen.
  await goTo(page, 'Play');
  await expect(page.getByRole('button', { name: /played along/ })).toBeVisible();
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeDisabled();
  await page.getByRole('button', { name: /played along/ }).click();
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeEnabled();
});

test('what was played is kept in one press, heard again, handed on with the page, and undone', async ({
  app: page,
}) => {
  const pad = await open(page);
  await setSpeed(page, 120);
  await begin(page);
  const exact = WRITTEN.map(([at, pitch]) => ({ at: at / 1.2, pitch }));
  await strikeAlong(page, pad, exact, 0.5 / 1.2, LATE);
  await page.getByRole('button', { name: 'Keep what was played' }).click();
  await expect(page.getByRole('region', { name: 'How it went' })).toContainText('Every stroke');
  const kept = page.getByRole('region', { name: 'Played and kept' });
  await expect(kept).toContainText('bar 1, at 120 %');
  const coming = page.waitForEvent('download');
  await kept.getByRole('button', { name: /^MIDI file of what was played/ }).click();
  const file = await (await coming).path();
  const names = parseMidi(readFileSync(file)).tracks.flatMap(track =>
    track.flatMap(event => (event.type === 'trackName' ? [event.text] : [])),
  );
  expect(names).toContain('Xylophone');
  expect(names).toContain('Xylophone, as it was played');
  // In Keep, too, beside the file of what is written.
  await goTo(page, 'Keep');
  await moreFiles(page);
  const handedOn = page.waitForEvent('download');
  await page
    .getByRole('menuitem', { name: /^MIDI file, as played of/ })
    .or(page.getByRole('button', { name: /^MIDI file, as played of/ }))
    .click();
  expect(readFileSync(await (await handedOn).path())).toEqual(readFileSync(file));
  await goTo(page, 'Grow');
  await kept.getByRole('button', { name: /^Hear what was played/ }).click();
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toBeEnabled();
  await page.keyboard.press('Escape');
  // It is part of the piece: it survives a reload, and undo takes it back.
  await expect(page.getByText('safe, a moment ago')).toBeVisible();
  await page.reload();
  // It comes back to rehearsing.
  await expect(kept).toContainText('bar 1, at 120 %');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(kept).toHaveCount(0);
});
