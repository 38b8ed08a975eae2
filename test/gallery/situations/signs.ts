import { key } from '../../../core/foundation/key.ts';
import type { Situation } from '../situation.ts';
import { row } from './row.ts';

/** Accidentals, clefs, chords and dots. */
export const SIGNS: readonly Situation[] = [
  row(
    'sign-bar',
    'A sign holds to the barline',
    'F#5:1 G5:1 F#5:1 F5:1',
    'q# q q qn',
    'A sign holds for its line and octave to the barline.',
  ),
  row(
    'sign-next-bar',
    'Reminder in the next bar',
    'F#5:2 G5:2 F5:2 E5:2',
    'h# h | h(n) h',
    'A reminder in brackets where the bar before altered the letter.',
  ),
  row(
    'sign-octave',
    'Reminder in another octave',
    'F#4:2 F5:2',
    'h# h(n)',
    'A sign holds for one octave only; a reminder in the other.',
  ),
  row(
    'sign-tie',
    'No sign after a tie',
    'C5:3 F#5:2 G5:3',
    'h. q#~ | q q~ h',
    'A tied note repeats no sign.',
  ),
  row(
    'sign-key',
    'Signs against the key',
    'Bb4:1 B4:1 C5:1 F#5:1',
    'q qn q q#',
    'Only what the key signature does not say gets a sign.',
    { key: key('F') },
  ),
  row(
    'sign-minor',
    'Leading note in a minor key',
    'D5:1 C#5:1 D5:1 A4:1',
    'q q# q q',
    'The raised seventh is written as an accidental.',
    { key: key('D', 'minor') },
  ),
  row(
    'sign-chord',
    'Signs in a chord',
    'F#4+C#5:2 F4+C5:2',
    'h## hnn',
    'Signs of a chord stand clear of each other.',
  ),
  row(
    'sign-second',
    'Signs and a second',
    'F#4+G#4:1 G4+A4:1 F#4+A#4:1/2 G4+B4:1/2 C5:1',
    'q## qn [e# e] q',
    'Heads a step apart stand on both sides of the stem.',
  ),
  row(
    'sign-semis',
    'Signs in semiquavers',
    'C#5:1/4 D#5:1/4 E5:1/4 D5:1/4 C5:1/4 D#5:1/4 E5:1/4 F#5:1/4 G5:2',
    '[s# s# s sn] [sn s# s s#] h',
    'Signs never touch the note before.',
  ),
  row('key-flats', 'Four flats', 'Ab4:1 C5:1 Eb5:2', 'q q h', 'Key signatures in their order.', {
    key: key('A', 'major', -1),
  }),
  row('key-sharps', 'Four sharps', 'E5:1 G#5:1 B5:2', 'q q h', 'Key signatures in their order.', {
    key: key('E'),
  }),
  row(
    'clef-bass',
    'A low marimba',
    'C3:1 G3:1/2 E3:1/2 C3:2',
    'q [e e] h',
    'The clef keeps the part nearest the stave.',
    { instruments: ['marimba'] },
  ),
  row(
    'ledger',
    'Ledger lines',
    'C4:1 A3:1 C6:1 E6:1',
    'q q q q',
    'Stems of notes on ledger lines reach the middle line.',
    { instruments: ['marimba'] },
  ),
  row(
    'chords',
    'Two mallets',
    'C5+E5:1 B4+D5:1/2 C5+E5:1/2 G4+C5:2',
    'q [e e] h',
    'A chord is one symbol on one stem.',
  ),
  row(
    'chord-tie',
    'A chord tied over the barline',
    'C5+E5:3 D5+F5:2 C5+E5:3',
    'h. q~ | q q~ h',
    'Every head of a chord has its tie.',
  ),
  row(
    'seconds',
    'Seconds, stem down and up',
    'C5+D5:1 G4+A4:1 B4+C5:2',
    'q q h',
    'Heads a step apart stand on both sides of the stem.',
  ),
  row(
    'dots-chord',
    'Dotted chords',
    'C5+E5:3/2 B4+D5:1/2 A4+C5:3/2 G4+B4:1/2',
    'q. e q. e',
    'Dots stand in spaces.',
  ),
];
