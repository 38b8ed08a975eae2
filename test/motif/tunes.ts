import type { Mode } from '../../core/foundation/key.ts';
import { midiOf } from '../../core/foundation/pitch.ts';

/** A well-known tune's opening or whole, in the public domain; typed as facts, from memory. */
export interface Tune {
  readonly name: string;
  /** Tonic and mode, as songbooks print them (common practice, no source). */
  readonly key: readonly [tonic: string, mode: Mode];
  /** Letter, sign, octave, and length in crotchets after a colon (1 where absent). */
  readonly notes: string;
}

export const TUNES: readonly Tune[] = [
  {
    name: 'Twinkle, twinkle (Ah, vous dirai-je)',
    key: ['C', 'major'],
    notes: 'C4 C4 G4 G4 A4 A4 G4:2 F4 F4 E4 E4 D4 D4 C4:2',
  },
  {
    name: 'Frère Jacques',
    key: ['F', 'major'],
    notes: 'F4 G4 A4 F4 F4 G4 A4 F4 A4 Bb4 C5:2 A4 Bb4 C5:2 C5:.5 D5:.5 C5:.5 Bb4:.5 A4 F4 F4 C4 F4:2',
  },
  {
    name: 'Ode to Joy (Beethoven)',
    key: ['D', 'major'],
    notes: 'F#4 F#4 G4 A4 A4 G4 F#4 E4 D4 D4 E4 F#4 F#4:1.5 E4:.5 E4:2',
  },
  {
    name: 'Good King Wenceslas',
    key: ['G', 'major'],
    notes: 'G4 G4 G4 A4 G4 G4 D4:2 E4 D4 E4 F#4 G4:2 G4:2',
  },
  { name: 'Au clair de la lune', key: ['G', 'major'], notes: 'G4 G4 G4 A4 B4:2 A4:2 G4 B4 A4 A4 G4:4' },
  {
    name: 'London Bridge',
    key: ['D', 'major'],
    notes: 'A4:1.5 B4:.5 A4 G4 F#4 G4 A4:2 E4 F#4 G4:2 F#4 G4 A4:2',
  },
  {
    name: 'Mary had a little lamb',
    key: ['C', 'major'],
    notes: 'E4 D4 C4 D4 E4 E4 E4:2 D4 D4 D4:2 E4 G4 G4:2 E4 D4 C4 D4 E4 E4 E4 E4 D4 D4 E4 D4 C4:4',
  },
  {
    name: 'Row, row, row your boat',
    key: ['C', 'major'],
    notes: 'C4:1.5 C4:1.5 C4 D4:.5 E4:1.5 E4 D4:.5 E4 F4:.5 G4:3',
  },
  {
    name: 'Three blind mice',
    key: ['F', 'major'],
    notes: 'A4:1.5 G4:1.5 F4:3 A4:1.5 G4:1.5 F4:3 C5:1.5 Bb4 Bb4:.5 A4:3',
  },
  {
    name: 'Oh! Susanna',
    key: ['D', 'major'],
    notes: 'D4:.5 E4:.5 F#4 A4 A4:1.5 B4:.5 A4 F#4 D4:1.5 E4:.5 F#4 F#4 E4 D4 E4:3',
  },
  {
    name: 'When the saints',
    key: ['F', 'major'],
    notes: 'F4 A4 Bb4 C5:4 F4 A4 Bb4 C5:4 F4 A4 Bb4 C5:2 A4:2 F4:2 A4:2 G4:4',
  },
  {
    name: 'Jingle bells',
    key: ['G', 'major'],
    notes:
      'B4 B4 B4:2 B4 B4 B4:2 B4 D5 G4:1.5 A4:.5 B4:4 C5 C5 C5:1.5 C5:.5 C5 B4 B4 B4:.5 B4:.5 B4 A4 A4 B4 A4:2 D5:2',
  },
  {
    name: 'Silent night (Gruber)',
    key: ['Bb', 'major'],
    notes: 'F4:1.5 G4:.5 F4 D4:3 F4:1.5 G4:.5 F4 D4:3 C5:2 C5 A4:3 Bb4:2 Bb4 F4:3',
  },
  {
    name: 'God save the King',
    key: ['G', 'major'],
    notes: 'G4 G4 A4 F#4:1.5 G4:.5 A4 B4 B4 C5 B4:1.5 A4:.5 G4 A4 G4 F#4 G4:3',
  },
  {
    name: 'The first Nowell',
    key: ['D', 'major'],
    notes:
      'F#4:.5 E4:.5 D4:1.5 E4:.5 F#4:.5 G4:.5 A4:2 B4:.5 C#5:.5 D5 C#5 B4 A4:2 B4:.5 C#5:.5 D5 C#5 B4 A4 B4 C#5 D5 A4 G4 F#4:2',
  },
  {
    name: 'O come, all ye faithful',
    key: ['A', 'major'],
    notes: 'A4 A4:2 E4 A4 B4:2 E4:2 C#5 B4 C#5 D5 C#5:2 B4 A4 A4:2 G#4 F#4 G#4 A4 B4 C#5 G#4:2 F#4 E4:3',
  },
  { name: 'Old MacDonald', key: ['G', 'major pentatonic'], notes: 'G4 G4 G4 D4 E4 E4 D4:2 B4 B4 A4 A4 G4:3' },
  {
    name: 'Auld lang syne',
    key: ['F', 'major pentatonic'],
    notes: 'C4 F4:1.5 F4:.5 F4 A4 G4:1.5 F4:.5 G4 A4 F4:1.5 F4:.5 A4 C5 D5:3',
  },
  {
    name: 'Amazing grace (New Britain)',
    key: ['G', 'major pentatonic'],
    notes:
      'D4 G4:2 B4:.5 G4:.5 B4:2 A4 G4:2 E4 D4:2 D4 G4:2 B4:.5 G4:.5 B4:2 A4 D5:5 B4 D5:2 B4:.5 G4:.5 B4:2 A4 G4:2 E4 D4:2 D4 G4:2 B4:.5 G4:.5 B4:2 A4 G4:5',
  },
  {
    name: 'Swing low, sweet chariot',
    key: ['F', 'major pentatonic'],
    notes:
      'A4 F4:3 A4:.5 F4:.5 F4:.5 D4:.5 C4:2 F4:.5 F4:.5 F4:.5 F4:.5 A4 C5 C5:3 A4 F4:3 A4 F4 D4 C4:2 F4 F4 F4 A4 G4 F4:3',
  },
  {
    name: 'Hot cross buns',
    key: ['G', 'major'],
    notes: 'B4 A4 G4:2 B4 A4 G4:2 G4:.5 G4:.5 G4:.5 G4:.5 A4:.5 A4:.5 A4:.5 A4:.5 B4 A4 G4:2',
  },
  {
    name: 'Skye boat song',
    key: ['G', 'major'],
    notes: 'D4:1.5 E4:.5 D4 G4:2 G4 A4:1.5 B4:.5 A4 D5:3 B4:1.5 A4:.5 B4 E4:2 E4 D4:3',
  },
  {
    name: "Lavender's blue",
    key: ['F', 'major'],
    notes: 'F4 C5 C5 C5:.5 Bb4:.5 A4 G4 F4 F5 F5 F5 F5:3 F4 C5 C5 C5:.5 Bb4:.5 A4 G4 F4 Bb4 A4 G4 F4:3',
  },
  {
    name: 'Yankee Doodle',
    key: ['G', 'major'],
    notes: 'G4 G4 A4 B4 G4 B4 A4 D4 G4 G4 A4 B4 G4:2 F#4:2 G4 G4 A4 B4 C5 B4 A4 G4 F#4 D4 E4 F#4 G4:2 G4:2',
  },
  {
    name: 'Simple gifts',
    key: ['F', 'major'],
    notes:
      'C4 C4 F4 F4:.5 G4:.5 A4:.5 F4:.5 A4:.5 Bb4:.5 C5 C5:.5 Bb4:.5 A4 G4:.5 F4:.5 G4 G4 G4 G4 A4:.5 G4:.5 F4:.5 E4:.5 F4 C4',
  },
  {
    name: 'God rest ye merry',
    key: ['E', 'minor'],
    notes: 'E4 E4 B4 B4 A4 G4 F#4 E4 D4 E4 F#4 G4 A4 B4:3 E4 E4 B4 B4 A4 G4 F#4 E4 D4 E4 F#4 G4 A4 B4:3',
  },
  {
    name: 'We three kings (Hopkins)',
    key: ['E', 'minor'],
    notes: 'B4:2 A4 G4:2 E4 F#4 G4 F#4 E4:3 B4:2 A4 G4:2 E4 F#4 G4 F#4 E4:3',
  },
  {
    name: 'Korobeiniki',
    key: ['A', 'minor'],
    notes: 'E5:2 B4 C5 D5:2 C5 B4 A4:2 A4 C5 E5:2 D5 C5 B4:3 C5 D5:2 E5:2 C5:2 A4:2 A4:4',
  },
  {
    name: 'Greensleeves',
    key: ['A', 'minor'],
    notes: 'A4 C5:2 D5 E5:1.5 F5:.5 E5 D5:2 B4 G4:1.5 A4:.5 B4 C5:2 A4 A4:1.5 G#4:.5 A4 B4:2 G#4 E4:3',
  },
  {
    name: 'Coventry carol',
    key: ['G', 'minor'],
    notes: 'G4 G4 F#4 G4:2 Bb4 A4:2 G4 F#4:3 G4 A4 Bb4 C5:2 A4 G4:4',
  },
  {
    name: 'Wayfaring stranger',
    key: ['D', 'minor pentatonic'],
    notes: 'A3 D4 F4 G4 A4:2 A4 G4 F4 G4 A4:3 A4 C5 D5:2 C5 A4 G4 F4 D4:2 A3 D4 F4 G4 A4 G4 F4 D4 D4:4',
  },
  {
    name: 'Scarborough Fair',
    key: ['D', 'dorian'],
    notes: 'D4:2 D4 A4:2 A4 E4:1.5 F4:.5 E4 D4:3 A4 C5 D5:2 C5 A4 B4 G4 A4:4',
  },
  {
    name: 'What shall we do with the drunken sailor',
    key: ['D', 'dorian'],
    notes:
      'A4 A4:.5 A4:.5 A4 A4:.5 A4:.5 A4 D4 F4 A4 G4 G4:.5 G4:.5 G4 G4:.5 G4:.5 G4 C4 E4 G4 A4 A4:.5 A4:.5 A4 A4:.5 A4:.5 A4 B4 C5 D5 C5 A4 G4 E4 D4:2 D4:2',
  },
  {
    name: 'Old Joe Clark',
    key: ['A', 'mixolydian'],
    notes: 'E5 F#5 G5 F#5 E5 D5 C#5:2 E5 F#5 G5 F#5 E5:4 E5 F#5 G5 F#5 E5 D5 C#5 A4 B4 G4 A4:2 A4:2',
  },
  {
    name: 'Swallowtail jig',
    key: ['E', 'dorian'],
    notes:
      'G4 E4 E4 B4 E4 E4 G4 E4 E4 B4 A4 G4 F#4 D4 D4 A4 D4 D4 D5 C#5 D5 A4 G4 F#4 G4 E4 E4 B4 E4 E4 G4 E4 G4 B4:3 B4 C#5 D5 B4 A4 F#4 E4:3',
  },
  {
    name: 'Dies irae',
    key: ['D', 'dorian'],
    notes: 'F4 E4 F4 D4 E4 C4 D4:2 D4 F4 F4 G4 F4 E4 D4 C4 E4 F4 E4 D4:2',
  },
];

/** A note of a tune: its MIDI pitch, and how many crotchets it lasts. */
export interface TuneNote {
  readonly pitch: number;
  readonly weight: number;
}

export const LETTERS_OF = { C: 'C', D: 'D', E: 'E', F: 'F', G: 'G', A: 'A', B: 'B' } as const;

export const notesOf = (tune: Tune): readonly TuneNote[] =>
  tune.notes.split(' ').map(word => {
    const [, letter, sign, octave, length] = /^([A-G])([#b]?)(\d)(?::([\d.]+))?$/.exec(word) ?? [];
    if (letter === undefined || octave === undefined) throw new Error(`${tune.name}: ${word}`);
    const alter = sign === '#' ? 1 : sign === 'b' ? -1 : 0;
    const spelled = { letter: LETTERS_OF[letter as keyof typeof LETTERS_OF], alter, octave: Number(octave) };
    return { pitch: midiOf(spelled), weight: Number(length ?? 1) };
  });
