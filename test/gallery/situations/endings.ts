import { fraction } from '../../../core/foundation/fraction.ts';
import type { Situation } from '../situation.ts';
import { row } from './row.ts';

const QUAVERS = 'C5:1/2 D5:1/2 E5:1/2 G5:1/2 C5:1 r1';
const WRITTEN = '[e e e e] q rq';
const MOTIF = `${QUAVERS} G5:2 E5:2`;

/** First- and second-time bars. */
export const ENDINGS: readonly Situation[] = [
  row(
    'endings',
    'Two endings',
    `${MOTIF} ${QUAVERS} G5:1 E5:1 C5:2 E5:4`,
    `${WRITTEN} | h h | q q h | w`,
    'What comes again but for its end is written once, with both ends; the second stays open.',
    { repeats: true },
  ),
  row(
    'endings-three',
    'Played three times, another ending at the last',
    `${MOTIF} ${MOTIF} ${QUAVERS} C5:4`,
    `${WRITTEN} | h h | w`,
    'The line says at which times its bars are played.',
    { repeats: true, score: { slowings: [{ from: fraction(5), to: fraction(6) }], tempo: 96 } },
  ),
  row(
    'endings-upbeat',
    'Endings of an idea with an upbeat',
    'G4:1 C5:1 E5:1 C5:1 E5:1 G5:2 r1 G4:1 C5:1 E5:1 C5:1 E5:1 C5:2',
    'q | q q q q | h rq q | h rh',
    'The upbeat of the repeat stands in the first ending alone.',
    { upbeat: '1', repeats: true },
  ),
  row(
    'endings-lettered',
    'Endings under a letter, over two parts and their names',
    `C5:4 ${MOTIF} ${QUAVERS} C5:4 E5:4 / r4 C4:4 G3:4 C4:4 C4:4 C4:4`,
    `w | ${WRITTEN} | h h | w | w / R | w | w | w | w`,
    'The line stands under letters and metronome marks, over everything that belongs to a stave.',
    {
      repeats: true,
      instruments: ['xylophone', 'marimba'],
      score: {
        letters: [
          { bar: 1, letter: 'A' },
          { bar: 5, letter: 'B' },
        ],
        tempi: [{ at: fraction(5), tempo: 120 }],
        brackets: [
          { id: 's1', part: 'p1', from: fraction(1), to: fraction(3), text: 'the motif' },
          { id: 's2', part: 'p1', from: fraction(3), to: fraction(5), text: 'ornamented' },
        ],
      },
    },
  ),
];
