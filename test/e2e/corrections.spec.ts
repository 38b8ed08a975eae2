import type { Page } from 'playwright/test';
import { expect, inWords, test, moreSettings } from './app.ts';
import { counted, type Hands, keyboard, mouse, touch } from './hands.ts';
import { openTake, type Struck, type TakeFile } from './takeFile.ts';

// Every single wrong note value is put right in at most three actions, by mouse, by touch and by
// keyboard. Choosing a note counts as one action (by keyboard: walking to it with the arrows).

const MOST_ACTIONS = 3;

interface Kind {
  readonly kind: string;
  readonly take: TakeFile;
  /** Brings the page into the state with the mistake; not counted. */
  readonly first?: (page: Page) => Promise<void>;
  /** Words of the bar with the mistake in it, and with it put right. */
  readonly wrong: RegExp;
  readonly right: RegExp;
  readonly mend: (hands: Hands) => Promise<void>;
}

const clicked = (strikes: readonly Struck[], bpm = 90): TakeFile => ({ bpm, strikes, click: true });
/** A bar of crotchets after the bar that matters, so that the end is plain. */
const after: readonly Struck[] = [
  [4, 72],
  [5, 72],
  [6, 72],
  [7, 72],
];

const KINDS: Kind[] = [
  {
    kind: 'a note placed one step late',
    take: clicked([[0, 72], [0.4, 74], [1, 76], [2, 74], [3, 72], ...after]),
    wrong: /Bar 1: C5 quaver; D5 quaver; E5 crotchet/,
    right: /Bar 1: C5 semiquaver; D5 dotted quaver; E5 crotchet/,
    mend: async ({ note, press }) => {
      await note(1);
      await press('Earlier', 'Alt+ArrowLeft');
    },
  },
  {
    kind: 'a note placed one step early',
    take: clicked([[0, 72], [0.6, 74], [1, 76], [2, 74], [3, 72], ...after]),
    wrong: /Bar 1: C5 quaver; D5 quaver; E5 crotchet/,
    right: /Bar 1: C5 dotted quaver; D5 semiquaver; E5 crotchet/,
    mend: async ({ note, press }) => {
      await note(1);
      await press('Later', 'Alt+ArrowRight');
    },
  },
  {
    kind: 'a wrong length',
    take: clicked([[0, 72], [1, 74], [2, 76], ...after]),
    wrong: /Bar 1: C5 crotchet; D5 crotchet; E5 crotchet; crotchet rest/,
    right: /Bar 1: C5 crotchet; D5 crotchet; E5 minim/,
    mend: async ({ note, set }) => {
      await note(2);
      await set(/^a crotchet/, '1/2');
    },
  },
  {
    kind: 'a missing rest',
    take: clicked([[0, 72], [1, 74], [2, 76], [3, 74], ...after]),
    wrong: /Bar 1: C5 crotchet; D5 crotchet; E5 crotchet; D5 crotchet/,
    right: /Bar 1: C5 crotchet; crotchet rest; E5 crotchet; D5 crotchet/,
    mend: async ({ note, press }) => {
      await note(1);
      await press('Rest', 'Backspace');
    },
  },
  {
    kind: 'a triplet read as straight',
    take: clicked([[0, 72], [1, 74], [1.33, 76], [1.67, 74], [2, 72], [3, 72], ...after]),
    first: async page => {
      await moreSettings(page);
      await page.getByLabel(/^Smallest value:/).selectOption('quarter');
    },
    wrong: /Bar 1: C5 crotchet; D5 (semi|dotted )?quaver; E5/,
    right: /Bar 1: C5 crotchet; D5 triplet quaver; E5 triplet quaver; D5 triplet quaver; C5 crotchet/,
    mend: async ({ note, press }) => {
      await note(1);
      await press('Triplet here', 't');
    },
  },
  {
    kind: 'swing read as dotted',
    take: clicked(
      [0, 1, 2, 3, 4, 5, 6]
        .flatMap(beat => [[beat, 72] as const, [beat + 0.75, 74] as const])
        .concat([[7, 72]]),
      120,
    ),
    wrong: /Bar 1: C5 dotted quaver; D5 semiquaver/,
    right: /Bar 1: C5 quaver; D5 quaver/,
    mend: async ({ press, set }) => {
      await press('More settings');
      await set(/^Swing tolerance/, 'high');
    },
  },
  {
    kind: 'an extra note from a bounce',
    take: clicked([[0, 72, 90], [1, 74, 90], [1.25, 74, 50], [2, 76, 90], [3, 74, 90], ...after]),
    wrong: /Bar 1: C5 crotchet; D5 semiquaver; D5 dotted quaver; E5 crotchet/,
    right: /Bar 1: C5 crotchet; D5 crotchet; E5 crotchet/,
    mend: async ({ note, press }) => {
      await note(2);
      await press('Delete', 'Delete');
    },
  },
  {
    kind: 'a missed note',
    take: clicked([[0, 72], [1, 74], [2, 76], [3, 74], ...after]),
    wrong: /Bar 1: C5 crotchet; D5 crotchet; E5 crotchet/,
    right: /Bar 1: C5 crotchet; D5 quaver; E5 quaver; E5 crotchet/,
    mend: async ({ note, press }) => {
      await note(1);
      await press('Add a note', 'Insert');
      await press('Higher', 'Alt+ArrowUp');
    },
  },
  {
    kind: 'a wrong pitch',
    take: clicked([[0, 72], [1, 74], [2, 76], [3, 74], ...after]),
    wrong: /Bar 1: C5 crotchet; D5 crotchet; E5 crotchet/,
    right: /Bar 1: C5 crotchet; G5 crotchet; E5 crotchet/,
    mend: async ({ note, set }) => {
      await note(1);
      await set(/^Note: D5/, '79');
    },
  },
  {
    kind: 'a wrong metre',
    take: clicked([0, 1, 2, 3, 4, 5, 6, 7, 8].map(at => [at, at % 3 === 0 ? 72 : 76] as const)),
    wrong: /Bar 1: C5 crotchet; E5 crotchet; E5 crotchet; C5 crotchet/,
    right: /Bar 1: C5 crotchet; E5 crotchet; E5 crotchet Bar 2: C5/,
    mend: async ({ set }) => {
      await set(/^Metre/, '3/4');
    },
  },
  {
    kind: 'a wrong first beat',
    take: clicked([
      [0, 67],
      [1, 72],
      [2, 74],
      [3, 76],
      [4, 74],
      [5, 72],
    ]),
    wrong: /Bar 1: G4 crotchet; C5 crotchet; D5 crotchet/,
    right: /G4 crotchet.* Bar 1: C5 crotchet; D5 crotchet; E5 crotchet/,
    mend: async ({ note, press }) => {
      await note(1);
      await press('First beat here', '1');
    },
  },
  {
    kind: 'the tempo halved',
    take: clicked([0, 1, 2, 3, 4, 5, 6, 7].map(at => [at, 72 + (at % 3) * 2] as const)),
    wrong: /Bar 1: C5 crotchet; D5 crotchet/,
    right: /Bar 1: C5 (minim|crotchet; crotchet rest); D5 (minim|crotchet; crotchet rest) Bar 2/,
    mend: async ({ press }) => {
      await press('More settings');
      await press('double');
    },
  },
  {
    kind: 'the tempo doubled',
    take: clicked([0, 1, 2, 3, 4, 5, 6, 7].map(at => [at, 72 + (at % 3) * 2] as const)),
    wrong: /Bar 1: C5 crotchet; D5 crotchet/,
    right: /Bar 1: C5 quaver; D5 quaver; E5 quaver; C5 quaver/,
    mend: async ({ press }) => {
      await press('More settings');
      await press('half');
    },
  },
];

/** Eight strokes on one bar, 12 a second at 90 a minute. */
const strokes: readonly Struck[] = Array.from({ length: 8 }, (_, i) => [2 + i / 8, 76] as const);

KINDS.push(
  {
    kind: 'a roll that was meant as notes',
    take: clicked([[0, 72], [1, 74], ...strokes, [3, 74], ...after]),
    wrong: /Bar 1: C5 crotchet; D5 crotchet; E5 crotchet, rolled; D5 crotchet/,
    right: /D5 crotchet; (E5 demisemiquaver; ){8}D5 crotchet/,
    mend: async ({ note, press }) => {
      await note(2);
      await press('Write the roll out', 'r');
    },
  },
  {
    kind: 'notes that are a slow roll',
    take: clicked([[0, 72], [1, 74], [2, 76], [2.25, 76], [2.5, 76], [2.75, 76], [3, 74], ...after], 110),
    wrong: /D5 crotchet; (E5 semiquaver; ){4}D5 crotchet/,
    right: /D5 crotchet; E5 crotchet, rolled; D5 crotchet/,
    mend: async ({ note, press }) => {
      await note(3);
      await press('Roll it', 'r');
    },
  },
);

/** One figure on three beats of a tune that never comes again. */
const FIGURES = clicked([
  [0, 72],
  [0.5, 74],
  [1, 76],
  [2, 77],
  [2.5, 79],
  [3, 81],
  [4, 83],
  [4.5, 84],
  [5, 86],
  [6, 72],
]);
/** How many of its three figures are dotted. */
const DOTTED = /dotted quaver; \S+ semiquaver/g;

const words = async (page: Page): Promise<string> => (await inWords(page)).join(' ');

for (const [way, handsOf] of [
  ['mouse', mouse],
  ['touch', touch],
  ['keyboard', keyboard],
] as const) {
  test.describe(`by ${way}`, () => {
    test.use({ hasTouch: way === 'touch' });
    for (const { kind, take, first, wrong, right, mend } of KINDS) {
      test(kind, async ({ app: page }) => {
        await openTake(page, take);
        await first?.(page);
        await expect.poll(() => words(page)).toMatch(wrong);
        const before = await words(page);
        const { hands, count } = counted(handsOf(page));
        await mend(hands);
        await expect.poll(() => words(page)).toMatch(right);
        expect(count()).toBeLessThanOrEqual(MOST_ACTIONS);
        for (let i = 0; i < count() && (await words(page)) !== before; i++) {
          await page.getByRole('button', { name: /^Undo: / }).click();
        }
        expect(await words(page)).toBe(before);
      });
    }
    test('one correction everywhere like it, or only here', async ({ app: page }) => {
      await openTake(page, FIGURES);
      const dotted = async (): Promise<number> => ((await words(page)).match(DOTTED) ?? []).length;
      await expect.poll(() => words(page)).toMatch(/Bar 1: C5 quaver; D5 quaver; E5 crotchet/);
      const before = await words(page);
      const { note, press } = handsOf(page);
      await expect(page.getByRole('button', { name: 'Everywhere like this', exact: true })).toHaveCount(0);
      await note(1);
      await press('Later', 'Alt+ArrowRight');
      await expect.poll(dotted).toBe(1);
      await press('Everywhere like this', 'l');
      await expect.poll(dotted).toBe(3);
      await expect(page.getByText('2 other notes followed.').first()).toBeVisible();
      await expect(page.getByRole('button', { name: 'Everywhere like this', exact: true })).toHaveCount(0);
      await press('Only here', 'o');
      await expect.poll(dotted).toBe(1);
      await expect(page.getByText(/notes? followed/)).toHaveCount(0);
      await press('Everywhere like this', 'l');
      await expect.poll(dotted).toBe(3);
      // However often it was changed, it is one step.
      await page.getByRole('button', { name: /^Undo: .*everywhere like this$/ }).click();
      expect(await words(page)).toBe(before);
      await expect(page.getByRole('button', { name: /^Undo: / })).toHaveCount(0);
    });
  });
}
