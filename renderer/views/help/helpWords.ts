import type { FirstStep } from '../../desk/firstStep.ts';

/** The first minutes, one sentence for each step. */
export const FIRST_STEP_WORDS: Readonly<Record<FirstStep, string>> = {
  strike: 'Strike a short idea: with the mouse or a finger, the letter keys, a pad or a MIDI keyboard.',
  catch: 'In Play, press Catch that: the last phrase is written down, and the five minutes before it stay.',
  write:
    'In Write, press Hear: if the page is not what was played, try another way to write it, then use this motif.',
  grow: 'In Grow, try a card on the right, hear it, and write it in.',
  keep: 'Press Keep a version: the piece is then in the register of Keep, to print and to hand on.',
};

/** The app in one page. */
export const PLACES_IN_WORDS: readonly { readonly place: string; readonly words: string }[] = [
  {
    place: 'Play',
    words:
      'Strike an idea. The last five minutes are always remembered; Catch that writes the last phrase down, and a piece on the line of the last half minute can be pressed instead.',
  },
  {
    place: 'Write',
    words:
      'Get the rhythm right. Choose a way to write it, or choose a note and move it: its repeats and what follows are read anew, the rest stays. A diamond marks a note to look at.',
  },
  {
    place: 'Grow',
    words:
      'Make a piece of it with the cards. A bracket says what every bar is; a part’s name opens what is done to the part; nothing is changed before it is written in.',
  },
  {
    place: 'Keep',
    words:
      'The register of the class. Everything is safe by itself; a version is kept by name. Print, hand on files, take the work along.',
  },
];

/** What a control means, shown where it stands: one or two plain sentences. */
export const HELP = {
  playedMetre:
    'With a click, the metre it counts in. Without one, what you know of the idea: it is then written in that metre.',
  click: 'A click gives the beat and is not recorded. With it the rhythm is read more surely.',
  lifted:
    'Bars lifted off cannot be struck. Without F and B every note of C major sounds well with every other.',
  source:
    'What the pupil strikes: the screen, keys, pads and keyboards always; real bars, or claps for a rhythm without pitches, if the microphone may listen.',
  microphone: 'What hears the bars or claps in the room: the one nearest to them hears best.',
  catch:
    'How much one press keeps, counted back from now. Nothing else is lost: five minutes are remembered.',
  mallets:
    'The head of the mallets: yarn is soft and round, plastic and brass are bright. Only what the bars bear.',
  silence: 'After so long a silence a new phrase begins.',
  keysShown: 'Which computer key strikes which bar.',
  metre: 'How many beats a bar has, and which value is a beat. The take is read anew; your corrections stay.',
  tempo: 'How fast the beat is. It changes the sound, not the values on the page.',
  readTempo:
    'How fast the beat is, about. The take is read anew with a beat near it; what you typed may come out a little otherwise.',
  howPlayed:
    'Where the click or the tempo of a file was not kept to, the beat is looked for in the strikes themselves.',
  key: 'The signature, and how notes outside it are spelt. It never changes by itself once the motif is used.',
  grid: 'The shortest value the reader may write. A larger one gives a plainer page.',
  swing: 'How unevenly pairs may be played and still be written as even ones.',
  shortNotes:
    'Bars ring as they like. Written with rests, notes end where the playing paused; left to ring, they last until the next.',
  motif: 'The bars the piece is grown from. Treatments, names and brackets all mean these.',
  hearWhat:
    'The take as it was played, the page as it is written, or both together: where they part, the page is wrong.',
  hearBar: 'Everything, or one bar again and again.',
  hearSpeed: 'Slower, at the same pitch.',
  target: 'Which part plays it, and from which bar. A part that does not exist yet is made.',
  fromBar: 'Where Hear begins.',
  paper: 'How high a stave is on paper: 7 mm is usual, more is large print.',
  under: 'Words under the notes on paper: letters, counts or rhythm syllables.',
  repeats: 'Bars that come again at once, written out or between repeat bars.',
  alike: 'The likest first, in any key and at any tempo. Contour is where a tune rises, falls or stays.',
  showing: 'Which lines of the register are shown. What is not shown is still there.',
} as const satisfies Readonly<Record<string, string>>;
