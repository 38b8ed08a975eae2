/** Every sentence of the pupil view, in one place: a test holds them to what somebody of nine can read. */
export const PUPIL_WORDS = {
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
  trouble: 'That did not work. Try again, or ask for help.',
  broken: 'This page can not be shown. Your tune is safe.',
} as const;

/** What stands on the buttons of the pupil view. */
export const PUPIL_BUTTONS = {
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
  next: 'Next pupil',
} as const;
