import { FRAME_WORDS } from '../../parts/frameWords.ts';

/** Every sentence of the pupil view, in one place: a test holds them to what somebody of nine can read. */
const WORDS = {
  who: 'Who are you? Press your name.',
  play: 'Play a short tune on the bars.',
  catch: 'Do you like your tune? Then press Catch it.',
  write: 'Is this your tune? Press Hear.',
  ways: 'Not right? Press a card to hear it another way.',
  grow: 'Make your tune grow. Press a card.',
  trying: 'Do you like it? Write it in, or press another card.',
  full: 'No card fits here now. Press I am done.',
  name: 'Give your tune a name. Then press Keep it.',
  kept: 'Your tune is safe here. Well played!',
  along: 'Play your tune with me. Press Play along.',
  counted: 'Wait for the count. Then play.',
  playing: 'Play your tune now.',
  silent: 'I did not hear you. Press Play along.',
  allWell: 'Well played! All was right.',
  mend: 'Good try! A tick shows what was right. Play it again.',
  listen: 'Good try! First press Hear.',
  trouble: 'That did not work. Try again, or ask for help.',
  broken: 'This page can not be shown. Your tune is safe.',
} as const;

/** What stands on the buttons of the pupil view. */
const BUTTONS = {
  back: 'Go back',
  takeBack: 'Take it back',
  again: 'Try again',
  teacher: 'Teacher’s view',
  otherNames: 'More names',
  notHere: 'I am not here',
  catch: 'Catch it',
  yes: 'Yes, that is it',
  writeIn: 'Write it in',
  otherCards: 'Other cards',
  done: 'I am done',
  keep: 'Keep it',
  along: 'Play along',
  next: 'Next pupil',
} as const;

/** What stands on the cards, and what each does. */
const CARDS = {
  again: { title: 'Again', words: 'Your tune comes back.' },
  canon: { title: 'Canon', words: 'A friend starts later.' },
  slow: { title: 'Slow', words: 'Each note lasts longer.' },
  'upside-down': { title: 'Upside down', words: 'What went up goes down.' },
  together: { title: 'Together', words: 'A friend plays a bit higher.' },
  backwards: { title: 'Back to front', words: 'The last note comes first.' },
  climb: { title: 'One step up', words: 'Your tune climbs the stairs.' },
  fast: { title: 'Fast', words: 'Each note is short and quick.' },
} as const;

/** Smaller things that are written, or said aloud. */
const LABELS = {
  /** Followed by a number. */
  way: 'Way',
  onPage: 'on the page',
  called: 'My tune is called',
  iPlay: 'I play',
  page: 'The page',
  bars: 'The bars to strike',
  /** What a tune is called that has no name yet. */
  untitled: 'Idea',
  tuneInNotes: 'Your tune in notation; the same in words follows it',
  pieceInNotes: 'Your piece in notation; the same in words follows it',
} as const;

/** The pupil view in English: what every other language has, too. */
export const ENGLISH = {
  words: WORDS,
  buttons: BUTTONS,
  cards: CARDS,
  labels: LABELS,
  frame: FRAME_WORDS,
} as const;

/** The same texts in any language. */
type Told<T> = {
  readonly [K in keyof T]: T[K] extends string ? string : T[K] extends boolean ? boolean : Told<T[K]>;
};
export type PupilTexts = Told<typeof ENGLISH>;
