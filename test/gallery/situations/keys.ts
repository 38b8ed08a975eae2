import { key } from '../../../core/foundation/key.ts';
import type { Situation } from '../situation.ts';
import { row } from './row.ts';

const IN_C = 'C5:1/2 E5:1/2 G5:1 E5:1 D5:1';
const IN_G = 'G5:1/2 B5:1/2 D6:1 B5:1 F#5:1';
const WRITTEN = '[e e] q q q';
/** Elaine Gould, Behind Bars (2011), on key signatures; from memory, as other handbooks have it. */
const GOULD = 'Gould, Behind Bars (2011), from memory';

const modern = (...given: Parameters<typeof row>): Situation => ({ ...row(...given), source: GOULD });

/** Another key from a letter on. */
export const KEYS: readonly Situation[] = [
  modern(
    'key-change',
    'Another key at a letter',
    `${IN_C} ${IN_G} G5:4`,
    `${WRITTEN} | ${WRITTEN} | w`,
    'A new signature follows a double barline; its signs need no accidentals any more.',
    { score: { letters: [{ bar: 1, letter: 'A' }], keys: [{ bar: 1, key: key('G') }] } },
  ),
  modern(
    'key-double-sharp',
    'The leading note of G sharp minor',
    'G#4:1 Fx4:1 G#4:1/2 A#4:1/2 B4:1 / D#4:1 Cx4:1 D#4:2',
    'q qx [e e] q / q qx h',
    'A letter that is sharp already has the sign of a double sharp: a cross.',
    { key: key('G', 'minor', 1), instruments: ['xylophone', 'marimba'] },
  ),
  modern(
    'key-change-naturals',
    'To a key without signs',
    'D5:1 F#5:1 A5:2 C5:1 E5:1 F5:2',
    'q q h | q q h',
    'Where the new key has no signs, naturals show which no longer hold.',
    { key: key('D'), score: { keys: [{ bar: 1, key: key('C') }] } },
  ),
  modern(
    'key-change-flats',
    'From sharps to flats, in two clefs',
    'A4:1 C#5:1 E5:2 Bb4:1 Eb5:1 G5:2 Db5:4 / A2:4 Eb3:4 Db3:4',
    'q q h | q q h | wb / w | w | wb',
    'With signs of its own a new signature cancels nothing: the double barline is enough.',
    {
      key: key('A'),
      instruments: ['xylophone', 'marimba'],
      score: { keys: [{ bar: 1, key: key('E', 'major', -1) }] },
    },
  ),
  modern(
    'key-change-line',
    'Another key where a line begins',
    `${IN_C} ${IN_C} ${IN_G} ${IN_G}`,
    [WRITTEN, WRITTEN, WRITTEN, WRITTEN].join(' | '),
    'The new signature is announced at the end of the line before, after its last barline.',
    {
      score: { letters: [{ bar: 2, letter: 'B' }], keys: [{ bar: 2, key: key('G') }] },
      options: { width: 560 },
    },
  ),
  modern(
    'key-change-upbeat',
    'An upbeat that leads into another key',
    'G4:1 C5:1 E5:1 G5:1 A4:1 D5:1 F#5:1 A5:2',
    'q | q q q q | q q h',
    'Before the barline the old signature holds, after it the new one.',
    { upbeat: '1', score: { letters: [{ bar: 2, letter: 'B' }], keys: [{ bar: 2, key: key('D') }] } },
  ),
  modern(
    'key-change-seven',
    'Seven sharps, and seven flats',
    'C5:4 C#5:2 E#5:2 Cb5:2 Eb5:2',
    'w | h h | h h',
    'No key has more signs than these.',
    {
      score: {
        keys: [
          { bar: 1, key: key('C', 'major', 1) },
          { bar: 2, key: key('C', 'major', -1) },
        ],
      },
    },
  ),
  modern(
    'key-change-repeat',
    'A repeat after another key',
    `C5:4 ${IN_G} ${IN_G} G5:4`,
    `w | ${WRITTEN} | w`,
    'The signature stands between the double barline and the sign that opens the repeat.',
    { repeats: true, score: { keys: [{ bar: 1, key: key('G') }] } },
  ),
  modern(
    'key-change-rests',
    'Another key among bars of rest',
    'C5:4 r4 r4 r4 r4 r4 Bb5:4',
    'w | R | R | R | R | R | w',
    'A long rest ends where the key changes.',
    { longRests: true, score: { keys: [{ bar: 3, key: key('F') }] } },
  ),
];
