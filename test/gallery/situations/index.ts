import type { Situation } from '../situation.ts';
import { COMPOUND } from './compound.ts';
import { ENDINGS } from './endings.ts';
import { GLISSANDI } from './glissandi.ts';
import { IRREGULAR } from './irregular.ts';
import { KEYS } from './keys.ts';
import { MARKS } from './marks.ts';
import { METRES } from './metres.ts';
import { PHRASES } from './phrases.ts';
import { QUADRUPLE } from './quadruple.ts';
import { SIGNS } from './signs.ts';
import { SIMPLE } from './simple.ts';
import { TUPLETS } from './tuplets.ts';

/** Every situation of the gallery, by chapter. */
export const CHAPTERS: readonly { readonly title: string; readonly situations: readonly Situation[] }[] = [
  { title: '4/4', situations: QUADRUPLE },
  { title: '3/4, 2/4 and 2/2', situations: SIMPLE },
  { title: '6/8, 9/8 and 12/8', situations: COMPOUND },
  { title: '5/4, 5/8 and 7/8', situations: IRREGULAR },
  { title: 'Tuplets', situations: TUPLETS },
  { title: 'Signs, clefs, marks and repeats', situations: [...SIGNS, ...MARKS] },
  { title: 'First- and second-time bars', situations: ENDINGS },
  { title: 'Slurs, hairpins, held notes and words', situations: PHRASES },
  { title: 'Glissandi', situations: GLISSANDI },
  { title: 'Another key', situations: KEYS },
  { title: 'Another metre', situations: METRES },
];

export const SITUATIONS: readonly Situation[] = CHAPTERS.flatMap(c => c.situations);
