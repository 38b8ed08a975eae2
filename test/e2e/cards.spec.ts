import { expect, test } from './app.ts';
import { bracket, grow, keep, openPart, tryCard, words } from './grown.ts';
import { openTake } from './takeFile.ts';

// What the cards and the marks of a statement do, each on an idea of one bar.

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

test('a modulating sequence, another key and metre from a letter on, and the miniature of an ending', async ({
  app: page,
}) => {
  await grow(page);
  await tryCard(page, 'Modulating sequence');
  await expect(
    page.locator('.bracket').filter({ hasText: 'modulating sequence, a tone higher' }),
  ).toHaveCount(2);
  await keep(page);
  expect(await words(page)).toContain('F♯5 crotchet; A5 quaver, tied');
  await tryCard(page, 'Another key');
  await page.getByLabel(/^everything sounds/).selectOption({ label: 'a minor third higher, in E♭ major' });
  const score = page.getByRole('region', { name: 'The score' });
  await expect(score.locator('.key-signs')).toHaveCount(1);
  expect(await words(page)).toContain('Letter A, key now E♭ major. Bar 3');
  await keep(page);
  await page.keyboard.press('Control+z');
  await expect(score.locator('.key-signs, .rehearsal')).toHaveCount(0);
  await tryCard(page, 'Another metre');
  await page.getByLabel(/^the bars are in/).selectOption('6/8');
  await expect(score.locator('.metre-signs')).toHaveCount(1);
  expect(await words(page)).toContain('Letter A, metre now 6/8, quaver = quaver as before. Bar 3');
  await keep(page);
  await tryCard(page, 'Another metre');
  await page.getByRole('button', { name: 'Take the change away' }).click();
  await expect(score.locator('.metre-signs')).toHaveCount(0);
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
  const part = await openPart(page, 'Xylophone');
  await expect(part.locator('.part-heard')).toHaveText('It sounds an octave higher.');
  await part.getByLabel(/^Played on a/).selectOption('marimba');
  await expect(page.locator('.part-heard')).toHaveCount(0);
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
  // A mark on one note changes nothing else.
  await hand.getByRole('button', { name: 'Dead stroke' }).click();
  await expect(hand.getByRole('button', { name: 'Dead stroke' })).toHaveAttribute('aria-pressed', 'true');
  await hand.getByRole('button', { name: 'Held (fermata)' }).click();
  expect(await words(page)).toContain('E5 crotchet, staccato, dead stroke, held (fermata)');
  await expect(bracket(page, 'changed by hand')).toHaveCount(0);
  await expect(hand).toContainText('E5 alone: changing it unties these bars from the motif.');
  await hand.getByRole('button', { name: 'Higher' }).click();
  await expect(bracket(page, 'changed by hand')).toBeVisible();
  expect(await words(page)).toContain('F5 crotchet');
  await page.getByRole('button', { name: 'Tie to the motif again' }).click();
  expect(await words(page)).toContain('E5 crotchet');
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
