import { readFileSync } from 'node:fs';
import { foundStrokes, strokesOfMidi } from '../exchange/byVerovio.ts';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import {
  choosePupil,
  expect,
  goTo,
  inWords,
  keepCard,
  keepVersion,
  moreFiles,
  openRow,
  test,
} from './app.ts';

/** A syncopated bar in 4/4: crotchets from the barline, MIDI pitch, and length as it must be written. */
const IDEA = [
  [0, 72, 0.75],
  [0.75, 76, 0.25],
  [1, 79, 0.5],
  [1.5, 79, 0.75],
  [2.25, 81, 0.25],
  [2.5, 79, 0.5],
  [3, 76, 0.5],
  [3.5, 74, 0.5],
] as const;
/** C pentatonic, one octave and more, for "up two steps". */
const SCALE = [60, 62, 64, 67, 69, 72, 74, 76, 79, 81, 84, 86, 88, 91, 93];
const up = (pitch: number): number => SCALE[SCALE.indexOf(pitch) + 2] ?? Number.NaN;

test('from a struck pad to a developed, kept and exported piece', async ({ app: page }) => {
  test.setTimeout(120_000);
  await choosePupil(page, 'Heron');
  await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  await expect(page.locator('.play-sentence')).toContainText('“Pad 25”');
  await page.getByLabel(/^Click:/).selectOption('on');
  await page.getByLabel(/crotchet =/).fill('100');
  await page.getByLabel(/crotchet =/).press('Tab');

  // A player who watches the lamps through the count-in, then plays the bar four times, s.d. 30 ms.
  const lastStruck = await page.evaluate(
    async ({ idea }) => {
      const seen: number[] = [];
      const lamps = document.querySelector('.beats');
      const counted = new Promise<void>(resolve => {
        let last = '';
        const look = (): void => {
          const lit = lamps?.querySelector('.lit')?.textContent ?? '';
          if (lit !== last && lit !== '') {
            seen.push(performance.now());
            last = lit;
            if (seen.length === 4) {
              resolve();
              return;
            }
          }
          requestAnimationFrame(look);
        };
        look();
      });
      [...document.querySelectorAll('button')].find(b => b.textContent === 'Start the click')?.click();
      await counted;
      const beat = 600;
      const first = seen.reduce((so, at, i) => so + at + (4 - i) * beat, 0) / 4 - 12;
      let state = 7;
      const chance = (): number => {
        state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
        return state / 2 ** 32;
      };
      const wobble = (): number => (chance() + chance() + chance() + chance() - 2) * Math.sqrt(3);
      const strokes = [0, 1, 2, 3].flatMap(bar =>
        idea.map(([at, pitch]) => ({ at: first + (4 * bar + at) * beat + 30 * wobble(), pitch })),
      );
      const id = 'pad';
      const port = [...(await navigator.requestMIDIAccess()).inputs.values()][0]?.id ?? id;
      await Promise.all(
        strokes.map(
          ({ at, pitch }) =>
            new Promise<void>(resolve => {
              setTimeout(
                () => {
                  // A pad: the note-off comes at once and means nothing.
                  window.fakeMidi.send(port, [0x90, pitch, 90], at);
                  window.fakeMidi.send(port, [0x90, pitch, 0], at + 20);
                  resolve();
                },
                Math.max(0, at - performance.now()) + 2,
              );
            }),
        ),
      );
      return Math.max(...strokes.map(s => s.at));
    },
    { idea: IDEA.map(([at, pitch]) => [at, pitch] as const) },
  );
  // The click goes on past the last bar.
  await page.waitForFunction(end => performance.now() > end, lastStruck + 700);
  await page.getByRole('button', { name: 'Catch that' }).click();

  const bar =
    'C5 dotted quaver; E5 semiquaver; G5 quaver; G5 quaver, tied; G5 semiquaver; A5 semiquaver; G5 quaver; E5 quaver; D5 quaver';
  // The page, not the line of Play that was written while it was played.
  await expect(page.getByRole('region', { name: 'The page' }).locator('.system svg').first()).toBeVisible();
  // How fast the click really went is for the machine's audio clock to say; a busy one without a card is uneven.
  expect((await inWords(page)).map(line => line.replace(/crotchet = (99|101)$/, 'crotchet = 100'))).toEqual([
    'C pentatonic, 4/4, crotchet = 100',
    'Xylophone',
    ...[1, 2, 3, 4].map(n => `Bar ${String(n)}: ${bar}`),
  ]);

  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await keepCard(page, 'Canon');
  await page
    .getByRole('button', { name: /^the motif/ })
    .first()
    .click();
  await page.getByLabel(/^Write it into/).selectOption({ label: 'a new marimba' });
  await keepCard(page, 'Up or down the steps');
  await page
    .getByRole('button', { name: /^the motif/ })
    .first()
    .click();
  await page.getByLabel(/^Write it into/).selectOption({ label: 'a new vibraphone' });
  await keepCard(page, 'Augmentation');
  for (const name of [
    'the motif, four times',
    'canon, one beat later, three times',
    'second part, two steps of the scale higher',
    'augmentation',
  ]) {
    await expect(page.getByRole('button', { name, exact: true }).first()).toBeVisible();
  }
  const before = await inWords(page);

  // Keep, reload, reopen: the same piece.
  await goTo(page, 'Keep');
  await keepVersion(page);
  await page.reload();
  await goTo(page, 'Keep');
  await openRow(page, 'Idea', 'Heron');
  await expect(page.locator('.system svg').first()).toBeVisible();
  expect(await inWords(page)).toEqual(before);

  // What was handed on says what the page says.
  await goTo(page, 'Keep');
  const fetchFile = async (name: RegExp): Promise<Buffer> => {
    await moreFiles(page);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name }).first().click(),
    ]);
    return readFileSync(await download.path());
  };
  const times = (
    count: number,
    from: number,
    change: (at: number, pitch: number) => readonly [number, number],
  ): string[] =>
    Array.from({ length: count }, (_, k) =>
      IDEA.map(([at, pitch]) => {
        const [place, sounding] = change(at, pitch);
        return `${(from + 4 * k + place).toFixed(3)} ${String(sounding)}`;
      }),
    ).flat();
  const wanted = [
    ...times(4, 0, (at, p) => [at, p + 12]),
    ...times(3, 1, (at, p) => [at, p + 24]),
    ...times(1, 0, (at, p) => [at, up(p)]),
    ...times(1, 0, (at, p) => [2 * at, p]),
  ].sort();
  expect(strokesOfMidi(await fetchFile(/^MIDI file of/), 3)).toEqual(wanted);
  const toolkit = new VerovioToolkit(await createVerovioModule());
  const xml = (await fetchFile(/^MusicXML of/)).toString('utf8');
  expect(Boolean(toolkit.loadData(xml))).toBe(true);
  expect(foundStrokes(toolkit, 3)).toEqual(wanted);
});
