import { fraction } from '../../../core/foundation/fraction.ts';
import { COMMON, type Situation } from '../situation.ts';

const row = (
  id: string,
  name: string,
  metre: string,
  notes: string,
  written: string,
  rule: string,
  more: Partial<Situation> = {},
): Situation => ({ id, name, metre, notes, written, rule, source: COMMON, ...more });

/** Slurs, hairpins, held notes, a slower tempo and words: what a pupil sets on a statement. */
export const PHRASES: readonly Situation[] = [
  row(
    'slur-over',
    'Slur over a phrase',
    '4/4',
    'C5:1~( D5:1 E5:1/2 G5:1/2 C6:1~)',
    'q( q [e e] q)',
    'A slur stands over the notes where stems point down or both ways, and is clear of the highest.',
  ),
  row(
    'slur-under',
    'Slur at the heads',
    '3/4',
    'E4:1~( F4:1 G4:1~) A4:1~( C4:1 D4:1~)',
    'q( q q) | q( q q)',
    'Where all stems point up a slur stands under the heads.',
  ),
  row(
    'slur-triplet',
    'Slur over a triplet',
    '4/4',
    'C5:1/3~( D5:1/3 E5:1/3 F5:1 E5:2~)',
    '(3:[e( e e]) q h)',
    'A slur is clear of the number of a tuplet.',
  ),
  row(
    'slur-systems',
    'Slur through two systems',
    '4/4',
    Array.from(
      { length: 8 },
      (_, i) => `C5:1/2${i === 0 ? '~(' : ''} D5:1/2 E5:1/2 F5:1/2 G5:1 E5:1${i === 7 ? '~)' : ''}`,
    ).join(' '),
    Array.from({ length: 8 }, (_, i) => `[e${i === 0 ? '(' : ''} e e e] q q${i === 7 ? ')' : ''}`).join(
      ' | ',
    ),
    'A slur that runs over the end of a system goes on in the next.',
  ),
  row(
    'hairpins',
    'Louder, and softer again',
    '6/8',
    '{p}C5:1/2~< D5:1/2 E5:1/2 F5:3/2~. {f}G5:3/2~> C5:1~. r1/2',
    '[<p>e< e e] q.. | <f>q.> q. re',
    'A hairpin stands in the row of dynamics, between the marks it leads from and to.',
  ),
  row(
    'hairpin-systems',
    'Louder through two systems',
    '4/4',
    Array.from(
      { length: 8 },
      (_, i) =>
        `${i === 0 ? '{pp}' : ''}C5:1/2${i === 0 ? '~<' : ''} D5:1/2 E5:1/2 F5:1/2 G5:1 E5:1${i === 7 ? '~.' : ''}`,
    ).join(' '),
    Array.from(
      { length: 8 },
      (_, i) => `[${i === 0 ? '<pp>' : ''}e${i === 0 ? '<' : ''} e e e] q q${i === 7 ? '.' : ''}`,
    ).join(' | '),
    'A hairpin that runs over the end of a system goes on as far open as it was.',
  ),
  row(
    'fermata',
    'Held notes in every part',
    '4/4',
    'C5:1 E5:1 G5:2^ / C4:1 G4:1 C4:2^',
    'q q h^ / q q h^',
    'A fermata stands over the note that is held, in every part.',
    { instruments: ['xylophone', 'marimba'] },
  ),
  row(
    'fermata-high',
    'Held over a beam and a slur',
    '4/4',
    'C6:1/2~( E6:1/2 G5:1/2 C6:1/2^~) E4:2_^',
    '[e( e e e)^] h_^',
    'A fermata stands clear of the notes beside it and of a slur.',
  ),
  row(
    'slower',
    'Slower, and in tempo again',
    '3/4',
    'C5:1 D5:1 E5:1 G5:1 F5:1 D5:1 C5:1 D5:1 E5:1 C5:3',
    'q q q | q q q | q q q | h.',
    'Words of tempo stand over the system, where the change begins.',
    {
      score: { tempo: 96, slowings: [{ from: fraction(3, 4), to: fraction(3, 2) }] },
    },
  ),
  row(
    'slower-letter',
    'Slower at a letter',
    '4/4',
    'C5:1 D5:1 E5:1 G5:1 F5:1 D5:1 C5:1 D5:1',
    'q q q q | q q q q',
    'Words of tempo make way for a rehearsal letter.',
    {
      score: {
        tempo: 96,
        letters: [{ bar: 1, letter: 'A' }],
        slowings: [{ from: fraction(1), to: fraction(2) }],
      },
    },
  ),
  row(
    'words',
    'Words over the stave',
    '4/4',
    '{mf}C5:1 E5:1 G5:1 C6:1 C5:4',
    '<mf>q q q q | w',
    'Words for the player stand over the stave in italics, clear of the notes.',
    { words: 'with soft mallets' },
  ),
  row(
    'words-all',
    'Words, a slur, a hairpin and a held note',
    '5/8',
    '{p}C5:1/2~(~< E5:1/2 G5:1/2 C6:1^~)~. / C4:3/2 G4:1^',
    '[<p>e(< e e] q).^ / q. q^',
    'Everything over and under a stave has a place of its own.',
    { words: 'dreamily', instruments: ['vibraphone', 'marimba'], score: { tempo: 60 } },
  ),
  row(
    'rolls',
    'Rolls',
    '4/4',
    'C5:4z F4:2z E5:1z C5+E5:1z A4:3/2z F#4:1/2z E4:1/4z G4:1/4z F4:1/2z G4:1z',
    'wz | hz qz qz | q.z e#z [sz sz enz] qz',
    'Three strokes through the stem, flags and beams counted; a semibreve has them over its head.',
    { source: 'Gould, Behind Bars, 2011 (from memory)' },
  ),
  row(
    'rolls-tied',
    'Rolls held over barline and beat, with other marks',
    '4/4',
    'r2 {p}C5:1>z~< G5:3z~. D5:1/2 A4:1/2 B4:1^z / E4:8z',
    'rh <p>q><z qz~ | h.z [e e] q^z / wz~ | wz',
    'Every symbol of a tie has the strokes.',
    { instruments: ['vibraphone', 'marimba'], score: { tempo: 60 } },
  ),
];
