import { COMMON, type Situation } from '../situation.ts';
import { row } from './row.ts';

const GOULD = { source: 'Gould, Behind Bars, 2011, Glissando (from memory)' };

/** Lines drawn over neighbouring bars. */
export const GLISSANDI: readonly Situation[] = [
  row(
    'gliss-to-note',
    'Glissandi to the next note',
    'C5:1=C6 C6:1=E4 E4:1/2=D5 D5:1/2=C4 C4:1',
    'qg qg; [eg; eg;] q;',
    'A straight line leads from head to head, with its word beside it.',
    GOULD,
  ),
  row(
    'gliss-to-no-note',
    'Glissandi that end on no note',
    'C5:1=A5 r1 G5:2=C4 E4:1/2=B4 r1/2 A4:1=C6 r2',
    'qgo rq hgo | ego re qgo rh',
    'A line that leads to no note of its own ends with a small head in brackets, which has no stem.',
    GOULD,
  ),
  row(
    'gliss-signs',
    'Signs and dots beside a line',
    'F#4:3/2=Bb5 Bb5:3/2=F4 C5:1=G#5 r1 G5:1',
    'q.#g ebg;~ qon | qgo# rq qn',
    'A line begins after the dot and ends before the sign of its note; a small head has its own sign.',
    { ...GOULD, metre: '3/4' },
  ),
  row(
    'gliss-tied',
    'A line over tied notes and a barline',
    'r2 C5:3=C6 C6:3=C4 C4:2 / E4:4=E5 E5:4 G4:2',
    'rh hg~ | q qg;~ h | h; rh / wg | w; | h rh',
    'The line begins at the first of tied heads.',
    { ...GOULD, instruments: ['vibraphone', 'marimba'], score: { tempo: 60 } },
  ),
  row(
    'gliss-marks',
    'Lines with other marks',
    '{p}C5:1>~<=C6 C6:1^~. (D5)G4:1=E5 E5+G5:1 C4:1/2*=G4 G4:1/2 r1 C5+E5:1=C6 C6:1',
    "<p>q><g q.^; 'qg q; | [e*g e;] rq qg q;",
    'A line is clear of dynamics, articulation and held notes, and a chord may begin or end it.',
    { source: COMMON },
  ),
  row(
    'gliss-over-systems',
    'A line from one system into the next',
    'G4:2 C5:2=G5 G5:2 C5:2=A5 A5:2 G5:2=C5 C5:4',
    'h hg | h; hg | h; hg | w;',
    'A line that goes on in the next system begins after its clef, slants, and ends before its note.',
    { source: COMMON, options: { width: 330 } },
  ),
];
