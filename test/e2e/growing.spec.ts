import type { Page } from 'playwright/test';
import { expect, goTo, inWords, keepCard, test, moreSettings } from './app.ts';
import { openTake, type Struck } from './takeFile.ts';

const IDEA: readonly Struck[] = [
  [0, 72],
  [0.5, 76],
  [1.5, 79],
  [2.5, 76],
  [3, 74],
];
const BAR = 'C5 quaver; E5 crotchet; G5 quaver, tied; G5 quaver; E5 quaver; D5 crotchet';

const grow = async (page: Page): Promise<void> => {
  await openTake(page, { bpm: 120, click: true, strikes: IDEA });
  await page.getByLabel(/^Key, /).selectOption('C major');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await expect(page.getByRole('region', { name: 'The score' })).toBeVisible();
};
const words = async (page: Page): Promise<string> => (await inWords(page)).join(' ');
const bracket = (page: Page, text: string): ReturnType<Page['locator']> =>
  page.locator('.bracket').filter({ hasText: text }).first();
const tryCard = async (page: Page, title: string): Promise<void> => {
  await page.locator('.treatment-try').filter({ hasText: title }).first().click();
};
const keep = (page: Page): Promise<void> => page.getByRole('button', { name: 'Write it in' }).click();

test('treatments chain in one step: an imitation, also upside down, has its name and its notes', async ({
  app: page,
}) => {
  await grow(page);
  await tryCard(page, 'Imitation');
  await page.getByLabel(/^and also/).selectOption('invert');
  await page.getByLabel(/^and also/).selectOption('up8');
  await expect(page.locator('.bracket.tried')).toContainText('canon by inversion, one beat later');
  await keep(page);
  await expect(bracket(page, 'canon by inversion')).toBeVisible();
  await page.keyboard.press('Control+z');
  await expect(bracket(page, 'canon by inversion')).toHaveCount(0);
});

test('a bordun under the idea and a last long note: chosen, named on the page, kept and undone', async ({
  app: page,
}) => {
  await grow(page);
  await tryCard(page, 'Drone');
  await expect(page.locator('.bracket.tried')).toContainText('simple bordun, C and G');
  await page.getByLabel(/^struck/).selectOption('crossover');
  await expect(page.locator('.bracket.tried')).toContainText('crossover bordun, C and G');
  expect(await words(page)).toContain('C4 crotchet; G4 crotchet; C5 crotchet; G4 crotchet');
  await page.getByLabel(/^The note/).selectOption('D5');
  await expect(page.locator('.bracket.tried')).toContainText('crossover drone, D and A');
  await keep(page);
  await expect(bracket(page, 'crossover drone, D and A')).toBeVisible();
  await bracket(page, 'the motif').click();
  await tryCard(page, 'Ending');
  await page
    .getByLabel(/ends on/)
    .first()
    .selectOption('G5');
  await keep(page);
  await expect(page.locator('.bracket').filter({ hasText: 'ending, a long note' })).toHaveCount(2);
  expect(await words(page)).toContain('G5 semibreve');
  await page.keyboard.press('Control+z');
  await expect(page.locator('.bracket').filter({ hasText: 'ending' })).toHaveCount(0);
  await page
    .locator('.treatment')
    .filter({ hasText: 'Drone' })
    .getByRole('button', { name: /what is it/ })
    .click();
  await expect(page.locator('dialog.concept')).toContainText('bordun');
});

test('every factor, both kinds of inversion, a fragment, a sequence: each is tried, named and kept', async ({
  app: page,
}) => {
  await grow(page);
  await page.getByLabel(/^Write it into/).selectOption('here');
  await tryCard(page, 'Augmentation');
  await page.getByLabel(/^Slower/).selectOption('3');
  await expect(page.locator('.bracket.tried')).toContainText('augmentation by 3');
  await page.getByRole('button', { name: 'Leave it' }).click();
  await tryCard(page, 'Diminution');
  await page.getByLabel(/^Faster/).selectOption('4');
  await expect(page.locator('.bracket.tried')).toContainText('diminution by 4');
  await tryCard(page, 'Inversion');
  await page.getByLabel(/^by steps/).selectOption('semitone');
  await page.getByLabel(/^about/).selectOption('79');
  await expect(page.locator('.bracket.tried')).toContainText('real inversion');
  // About G5 by semitones, C5 becomes D6.
  expect(await words(page)).toContain('D6 quaver');
  await tryCard(page, 'Retrograde inversion');
  await expect(page.locator('.bracket.tried')).toContainText('retrograde inversion');
  await tryCard(page, 'Fragment');
  await page.getByLabel(/^The first/).selectOption('end');
  await expect(page.locator('.bracket.tried')).toContainText('fragment');
  await tryCard(page, 'Sequence');
  await keep(page);
  await expect(page.locator('.bracket')).toHaveCount(3);
  expect(await words(page)).toContain('Bar 3: E5 quaver; G5 crotchet');
});

test('a part that plays already: the choice is plain, and nothing is lost in silence', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Repetition');
  await page.getByLabel(/^Write it into/).selectOption({ label: 'the xylophone' });
  await page.getByLabel(/^from bar \d/).selectOption('2');
  await tryCard(page, 'Retrograde');
  await expect(page.getByRole('alert')).toContainText('already plays');
  await page.getByRole('button', { name: 'Wait until it is free' }).click();
  await keep(page);
  expect(await words(page)).toContain('Bar 5: D5 crotchet; E5 quaver');
  await page.keyboard.press('Control+z');
  await bracket(page, 'the motif, four times').click();
  await page.getByLabel(/^Write it into/).selectOption({ label: 'the xylophone' });
  await page.getByLabel(/^from bar \d/).selectOption('2');
  await tryCard(page, 'Retrograde');
  await page.getByRole('button', { name: 'Cut what is there' }).click();
  await keep(page);
  const all = await inWords(page);
  expect(all[2]).toContain(BAR);
  expect(all[3]).toContain('D5 crotchet; E5 quaver');
  expect(all[4]).toContain(BAR);
});

test('a treatment that found its part taken is tried in the part chosen next', async ({ app: page }) => {
  await grow(page);
  await keepCard(page, 'Repetition');
  await page.getByLabel(/^Write it into/).selectOption({ label: 'the xylophone' });
  await tryCard(page, 'Retrograde');
  await expect(page.getByRole('group', { name: 'The part plays there already' })).toBeVisible();
  await page.getByLabel(/^Write it into/).selectOption({ label: 'a new marimba' });
  await expect(page.getByRole('group', { name: 'The part plays there already' })).toHaveCount(0);
  await expect(page.locator('.bracket.tried')).toContainText('retrograde');
  await expect(page.locator('.problem')).toHaveCount(0);
});

test('brackets by keyboard alone: walk, move by a beat, copy, give to another part, take away', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Canon');
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('ArrowRight');
  await expect(page.locator('.bracket.chosen')).toContainText('canon, one beat later');
  await page.keyboard.press('Alt+ArrowRight');
  await expect(page.locator('.bracket.chosen').first()).toContainText('canon, two beats later');
  await page.keyboard.press('c');
  await expect(page.locator('.bracket')).toHaveCount(3);
  await page.keyboard.press('Delete');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(
    page.locator('.bracket.chosen, .bracket').filter({ hasText: 'canon, one beat later' }),
  ).not.toHaveCount(0);
});

test('parts: added, named, given another instrument, ordered, silenced, heard alone, taken away', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Canon');
  await page.getByRole('button', { name: 'Parts and bars' }).click();
  const panel = page.getByRole('group', { name: 'Parts and bars' });
  await panel.getByLabel('Name of part 2').fill('The echo');
  await panel.getByLabel('Name of part 2').press('Enter');
  await expect(page.locator('.part-name, text').filter({ hasText: 'The echo' }).first()).toBeVisible();
  await panel.getByLabel('on a glockenspiel').selectOption('vibraphone');
  await panel.getByRole('button', { name: 'The echo up' }).click();
  expect((await inWords(page)).filter(line => ['The echo', 'Xylophone'].includes(line))).toEqual([
    'The echo',
    'Xylophone',
  ]);
  const silent = panel.getByRole('button', { name: 'Silent' }).first();
  await silent.click();
  await expect(silent).toHaveAttribute('aria-pressed', 'true');
  await silent.click();
  await panel.getByRole('button', { name: 'Alone' }).first().click();
  await panel.getByRole('button', { name: 'Add' }).click();
  await expect(panel.locator('.part-row')).toHaveCount(3);
  await panel.getByRole('button', { name: 'Take the marimba away' }).click();
  await panel.getByLabel('At bar').fill('2');
  await panel.getByLabel('At bar').press('Tab');
  await panel.getByLabel(/^rehearsal letter/).selectOption('yes');
  await panel.getByLabel(/^from here crotchet/).fill('60');
  await panel.getByLabel(/^from here crotchet/).press('Tab');
  const all = await words(page);
  expect(all).toContain('Letter A');
  expect(all).toContain('crotchet = 60');
});

test('a variation: nothing changes until it is chosen, and every note is one of the idea’s', async ({
  app: page,
}) => {
  await grow(page);
  await page.getByLabel(/^Write it into/).selectOption('here');
  await tryCard(page, 'Variation');
  await expect(page.locator('.bracket.tried')).toContainText('the motif');
  await page.getByLabel(/^Note 1:/).selectOption('G5');
  await expect(page.locator('.bracket.tried')).toContainText('variation, same rhythm');
  expect(await words(page)).toContain('G5 quaver; E5 crotchet; G5 quaver, tied');
  await page.getByLabel(/^Keep the rhythm/).selectOption('lengths');
  await page.getByLabel(/^C5, note 1, lasts/).selectOption('1');
  await expect(page.locator('.bracket.tried')).toContainText('variation, same notes');
  expect(await words(page)).toContain('C5 crotchet; E5 quaver');
  await page.getByLabel(/^Keep the notes/).selectOption('ornament');
  await page.getByLabel(/^D5, note 5:/).selectOption('upper');
  expect(await words(page)).toContain('D5 quaver; E5 semiquaver; D5 semiquaver');
  await keep(page);
  await expect(bracket(page, 'variation, ornamented')).toBeVisible();
});

test('a modulating sequence and the miniature of an ending', async ({ app: page }) => {
  await grow(page);
  await tryCard(page, 'Modulating sequence');
  await expect(
    page.locator('.bracket').filter({ hasText: 'modulating sequence, a tone higher' }),
  ).toHaveCount(2);
  await keep(page);
  expect(await words(page)).toContain('F♯5 crotchet; A5 quaver, tied');
  await tryCard(page, 'Ending');
  await expect(page.locator('.treatment').filter({ hasText: 'Ending' }).locator('svg').first()).toBeVisible();
});

test('a note respelled in Grow, repeats without a gap, and how a xylophone sounds', async ({ app: page }) => {
  await openTake(page, { bpm: 120, click: true, strikes: [0, 1, 2].map(at => [at, 72 + at] as const) });
  await page.getByLabel(/^Key, /).selectOption('C major');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await page.locator('.vf-stavenote .hit').nth(1).click();
  await page.getByRole('button', { name: 'Respell as D♭' }).click();
  expect(await words(page)).toContain('D♭5 crotchet');
  await page.getByRole('button', { name: 'Tie to the motif again' }).click();
  expect(await words(page)).toContain('C♯5 crotchet');
  await tryCard(page, 'Repetition');
  await page.getByLabel(/^Repeats follow/).selectOption('joined');
  await keep(page);
  expect(await words(page)).toMatch(/Bar 1: C5 crotchet; C♯5 crotchet; D5 crotchet; C5 crotchet/);
  await page.getByRole('button', { name: 'Parts and bars' }).click();
  await page.getByLabel(/^on a/).first().selectOption('xylophone');
  await expect(page.locator('.part-sounds')).toHaveText(['sounds an', 'octave higher']);
  await page.getByLabel(/^on a/).first().selectOption('marimba');
  await expect(page.locator('.part-sounds')).toHaveCount(0);
});

test('slur, hairpin, a slower end, a held note and words: set, written, and taken away again', async ({
  app: page,
}) => {
  await grow(page);
  const marks = page.getByRole('button', { name: 'Marks' });
  await marks.click();
  await page.getByLabel(/^and as loud/).selectOption('crescendo');
  await page.getByLabel(/^With no slur/).selectOption('slur');
  await page.getByLabel(/^It ends/).selectOption('both');
  await page.getByLabel(/^Words over it/).fill('dreamily');
  await page.getByLabel(/^Words over it/).press('Enter');
  for (const mark of ['.slur', '.hairpin', '.fermata', '.slower', '.stave-words'])
    await expect(page.getByRole('region', { name: 'The score' }).locator(mark)).toHaveCount(1);
  expect(await words(page)).toMatch(/ritardando.*“dreamily”.*crescendo from here.*held \(fermata\)/);
  // In the field the key would take back letters.
  await bracket(page, 'the motif').focus();
  await page.keyboard.press('Control+z');
  await expect(page.locator('.stave-words')).toHaveCount(0);
  await page.getByLabel(/^It ends/).selectOption('');
  await expect(page.locator('.fermata, .slower')).toHaveCount(0);
});

test('loudness and touch of a statement; one note by hand unties it, and it is tied again', async ({
  app: page,
}) => {
  await grow(page);
  await page.getByRole('button', { name: 'Marks' }).click();
  await page.getByLabel(/^Loudness/).selectOption('p');
  await page.getByLabel(/^Played/).selectOption('staccato');
  expect(await words(page)).toMatch(/piano/);
  await page.locator('.vf-stavenote .hit').nth(1).click();
  const hand = page.locator('.note-by-hand');
  await expect(hand).toContainText('E5 alone: changing it unties these bars from the motif.');
  await hand.getByRole('button', { name: 'Higher' }).click();
  await expect(bracket(page, 'changed by hand')).toBeVisible();
  expect(await words(page)).toContain('F5 crotchet');
  await page.getByRole('button', { name: 'Tie to the motif again' }).click();
  expect(await words(page)).toContain('E5 crotchet');
});

test('a correction of the motif goes through the piece, and what changed is shown', async ({ app: page }) => {
  await grow(page);
  await keepCard(page, 'Canon');
  await goTo(page, 'Write');
  await page.locator('.vf-stavenote .hit').nth(1).click();
  await page.keyboard.press('f');
  await expect(page.getByRole('button', { name: /^Undo: E5 to F5/ })).toBeVisible();
  await goTo(page, 'Grow');
  expect((await words(page)).match(/F5/g)?.length).toBeGreaterThanOrEqual(2);
  await expect(page.locator('.bracket.rippled')).not.toHaveCount(0);
});

test('the entry finder: a map walked by keys, heard by touch, and only what is kept stays', async ({
  app: page,
}) => {
  await grow(page);
  await page.getByRole('button', { name: 'Find an entry for another part' }).click();
  const finder = page.getByRole('group', { name: 'Entry finder' });
  await expect(finder.locator('.entry')).toHaveCount(5 * 15);
  const same = finder.getByRole('button', { name: /^at the same height, one beat later/ });
  await same.focus();
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowUp');
  await expect(finder.locator('.entry-words')).toContainText('a third higher, one beat later');
  await expect(page.locator('.bracket.tried')).toHaveCount(0);
  await page.keyboard.press('Enter');
  await expect(page.locator('.bracket.tried')).toContainText('imitation, one beat later, a third higher');
  await finder.getByRole('button', { name: 'Back to the cards' }).click();
  await expect(page.locator('.bracket')).toHaveCount(1);
  await page.getByRole('button', { name: 'Find an entry for another part' }).click();
  await finder.getByLabel(/every beat/).selectOption('halves');
  await finder.getByLabel(/as it is/).selectOption('diminished');
  await finder.getByRole('button', { name: /^at the same height, half a beat later/ }).click();
  await keep(page);
  await expect(bracket(page, 'canon by diminution, half a beat later')).toBeVisible();
});

test('a concept card plays the pupil’s own idea', async ({ app: page }) => {
  await grow(page);
  await page.getByRole('button', { name: 'Retrograde: what is it?', exact: true }).click();
  const card = page.getByRole('dialog', { name: 'Retrograde' });
  await expect(card.locator('.system svg')).toBeVisible();
  await expect(card.locator('.in-words li').nth(3)).toContainText('D5 crotchet; E5 quaver');
  await card.getByRole('button', { name: 'Hear it' }).click();
  await expect(card.getByRole('button', { name: 'Stop' })).toBeVisible();
  await card.getByRole('button', { name: 'Close' }).click();
  await expect(card).toBeHidden();
});

test('a motif cut longer: what followed on waits until its part is free, and undo brings all back', async ({
  app: page,
}) => {
  await openTake(page, {
    bpm: 120,
    click: true,
    strikes: [...IDEA, ...([4, 5, 6, 7] as const).map((at, i): Struck => [at, 60 + 2 * i])],
  });
  const lastBar = page.getByLabel('to', { exact: true });
  await lastBar.fill('1');
  await lastBar.press('Tab');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Sequence');
  const before = await words(page);
  await expect(page.locator('.bracket')).toHaveCount(3);
  await goTo(page, 'Write');
  await lastBar.fill('2');
  await lastBar.press('Tab');
  await goTo(page, 'Grow');
  const after = await inWords(page);
  expect(after.at(-1)).toMatch(/^Bar 6/);
  expect(after.join(' ')).not.toContain(' and ');
  await page.keyboard.press('Control+z');
  expect(await words(page)).toBe(before);
});

test('going to another place stops what plays, what is tapped and what is tried', async ({ app: page }) => {
  await grow(page);
  await tryCard(page, 'Canon');
  await expect(page.locator('.bracket.tried')).toHaveCount(1);
  const stop = page.getByRole('button', { name: 'Stop', exact: true });
  await expect(stop).toBeEnabled();
  await goTo(page, 'Write');
  await expect(stop).toBeDisabled();
  await moreSettings(page);
  await page.getByRole('button', { name: 'tap the beat' }).click();
  await expect(page.getByRole('group', { name: 'Tap the beat' })).toBeVisible();
  await goTo(page, 'Grow');
  await expect(page.locator('.bracket')).toHaveCount(1);
  await goTo(page, 'Write');
  await expect(page.getByRole('group', { name: 'Tap the beat' })).toHaveCount(0);
});

test('a part may be called anything: markup stays text, and the widest name stays clear of the stave', async ({
  app: page,
}) => {
  await grow(page);
  await keepCard(page, 'Canon');
  await page.getByRole('button', { name: 'Parts and bars' }).click();
  const panel = page.getByRole('group', { name: 'Parts and bars' });
  for (const [field, name] of [
    ['Name of part 1', 'W'.repeat(24)],
    ['Name of part 2', '<b>Tom & "Jo" > all</b>'],
  ] as const) {
    await panel.getByLabel(field).fill(name);
    await panel.getByLabel(field).press('Enter');
    await expect(page.locator('.part-name').filter({ hasText: name })).toBeVisible();
  }
  // The text itself, not its box, may reach as far as the system's bracket and no farther.
  const clear = await page.evaluate(() => {
    const rights = [...document.querySelectorAll('.sheet .part-name')].map(name => {
      const range = document.createRange();
      range.selectNodeContents(name);
      return range.getBoundingClientRect().right;
    });
    const lefts = [...document.querySelectorAll('.sheet .system svg path')].map(
      path => path.getBoundingClientRect().left,
    );
    return Math.min(...lefts) - Math.max(...rights);
  });
  expect(clear).toBeGreaterThanOrEqual(0);
});

test('what could not be written any more is refused in plain words, and the page stays as it is', async ({
  app: page,
}) => {
  // Four semiquavers, then a quaver triplet: a third of that would be triplets inside thirds of a beat.
  const strikes = [0, 0.25, 0.5, 0.75, 1, 4 / 3, 5 / 3, 2, 3].map((at, i): Struck => [at, 72 + (i % 2) * 4]);
  await openTake(page, { bpm: 60, click: true, strikes });
  expect(await words(page)).toContain('triplet quaver');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  const before = await words(page);
  await tryCard(page, 'Diminution');
  await page.getByLabel(/^Faster/).selectOption('3');
  await expect(page.getByRole('alert')).toContainText('too short, or too uneven, to be written');
  expect(await words(page)).toBe(before);
});
