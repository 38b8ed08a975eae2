import { fraction } from '../../../core/foundation/fraction.ts';
import { key } from '../../../core/foundation/key.ts';
import { metre } from '../../../core/foundation/metre.ts';
import type { Situation } from '../situation.ts';
import { row } from './row.ts';

/** Elaine Gould, Behind Bars (2011), on time signatures; from memory, as other handbooks have it. */
const GOULD = 'Gould, Behind Bars (2011), from memory';

const modern = (...given: Parameters<typeof row>): Situation => ({ ...row(...given), source: GOULD });

const FOUR = 'C5:1 E5:1/2 E5:1/2 G5:1 D5:1';
const LETTER = { letters: [{ bar: 1, letter: 'A' }] };

/** Another metre from a letter on. */
export const METRES: readonly Situation[] = [
  modern(
    'metre-change',
    'Three beats after four, at a letter',
    `${FOUR} C5:1 E5:1/2 E5:1/2 G5:1 D5:3`,
    'q [e e] q q | q [e e] q | h.',
    'The new time signature stands after the barline. The beat is the same note value: nothing is said of it.',
    { score: { ...LETTER, metres: [{ bar: 1, metre: metre(3, 4) }] } },
  ),
  modern(
    'metre-change-flats',
    'From 6/8 to 4/4 with five flats, in two clefs',
    'Db5:1/2 F5:1/2 Ab5:1/2 Gb5:3/2 Eb5:1/2 Db5:1/2 F5:1 Ab5:1 Db5:1 / Db3:3/2 Ab2:3/2 Db3:2 Ab2:2',
    '[e e e] q. | [e e] q q q / q. q. | h h',
    'Where the beat becomes another note value, the mark says which stays as long as it was.',
    {
      metre: '6/8',
      key: key('D', 'major', -1),
      instruments: ['xylophone', 'marimba'],
      options: { tempo: true },
      score: { ...LETTER, metres: [{ bar: 1, metre: metre(4, 4) }] },
    },
  ),
  modern(
    'metre-change-five',
    'From 5/8 with an upbeat to 2/4 and back',
    'G4:1 C5:3/2 E5:1 C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 A5:1/2 G5:1/2 F5:1/2 E5:1/2 C5:3/2 E5:1',
    'q | q. q | [e e e] [e e] | [e e e e] | q. q',
    'Beats are grouped and beamed by the metre in force; quaver = quaver.',
    {
      metre: '5/8',
      upbeat: '1',
      options: { tempo: true },
      score: {
        letters: [
          { bar: 3, letter: 'A' },
          { bar: 4, letter: 'B' },
        ],
        metres: [
          { bar: 3, metre: metre(2, 4) },
          { bar: 4, metre: metre(5, 8) },
        ],
      },
    },
  ),
  modern(
    'metre-change-line',
    'Another key and metre where a line begins',
    `${FOUR} ${FOUR} D5:1 F#5:1 A5:1 D5:3 D5:1 F#5:1 A5:1`,
    'q [e e] q q | q [e e] q q | q q q | h. | q q q',
    'Both are announced at the end of the line before, the key first, and stand again in the head of the next.',
    {
      score: {
        letters: [{ bar: 2, letter: 'B' }],
        keys: [{ bar: 2, key: key('D') }],
        metres: [{ bar: 2, metre: metre(3, 4) }],
      },
      options: { width: 560 },
    },
  ),
  modern(
    'metre-change-tempo',
    'Another metre and a tempo of its own',
    'C5:1 E5:1 G5:1 C5:1/2 E5:1/2 G5:1/2 C5:1/2 E5:1/2 G5:1/2 C5:3',
    'q q q | [e e e] [e e e] | h.',
    'A metronome mark tells the new beat: then nothing else is said of it.',
    {
      metre: '3/4',
      score: {
        ...LETTER,
        metres: [{ bar: 1, metre: metre(6, 8) }],
        tempi: [{ at: fraction(3, 4), tempo: 72, beat: fraction(3, 8) }],
      },
    },
  ),
  modern(
    'metre-change-tie',
    'Notes held over the new barlines',
    'C5:4 E5:2 G5:2 E5:2',
    'w | h q~ | q h',
    'Notes keep their lengths and are tied over the barlines of the new metre.',
    { score: { ...LETTER, metres: [{ bar: 1, metre: metre(3, 4) }] } },
  ),
  modern(
    'metre-change-twelve',
    'Twelve quavers after two minims, counted',
    'C5:2 E5:2 C5:1/2 D5:1/2 E5:1/2 C5:3/2 G5:3 C5:2 E5:2',
    'h h | [e e e] q. h. | h h',
    'Counts are those of the metre in force; minims and dotted crotchets are told apart by the quaver.',
    {
      metre: '2/2',
      score: {
        ...LETTER,
        metres: [
          { bar: 1, metre: metre(12, 8) },
          { bar: 2, metre: metre(2, 2) },
        ],
      },
      options: { tempo: true, under: ['counts', 'syllables'] },
    },
  ),
  modern(
    'metre-change-repeat',
    'A repeat after another metre',
    'C5:4 C5:1 E5:1 G5:1 C5:1 E5:1 G5:1 C5:3',
    'w | q q q | h.',
    'The time signature stands between the double barline and the sign that opens the repeat.',
    { repeats: true, score: { metres: [{ bar: 1, metre: metre(3, 4) }] } },
  ),
  modern(
    'metre-change-rests',
    'Another metre among bars of rest',
    'C5:4 r4 r4 r3 r3 r3 C5:3',
    'w | R | R | R | R | R | h.',
    'A long rest ends where the metre changes.',
    { longRests: true, score: { metres: [{ bar: 3, metre: metre(3, 4) }] } },
  ),
];
