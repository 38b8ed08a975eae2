import { COMMON, type Situation } from '../situation.ts';

const BRACKET = 'A bracket only where no beam holds the tuplet together; the number alone, never a ratio.';

const row = (
  metre: string,
  id: string,
  name: string,
  notes: string,
  written: string,
  rule = BRACKET,
): Situation => ({
  id: `tuplet-${id}`,
  name,
  metre,
  notes,
  written,
  rule,
  source: COMMON,
});

/** Tuplets. */
export const TUPLETS: readonly Situation[] = [
  row('4/4', 'quavers', 'Quaver triplet', 'C5:1/3 D5:1/3 E5:1/3 G5:1 C5:2', '(3:[e e e]) q h'),
  row(
    '4/4',
    'uneven',
    'Crotchet and quaver in a triplet',
    'C5:2/3 D5:1/3 E5:2/3 G5:1/3 C5:2',
    '(3:q e) (3:q e) h',
  ),
  row('4/4', 'uneven-back', 'Quaver and crotchet in a triplet', 'C5:1/3 D5:2/3 E5:1 C5:2', '(3:e q) q h'),
  row('4/4', 'crotchets', 'Crotchet triplet over two beats', 'C5:2/3 E5:2/3 G5:2/3 C5:2', '(3:q q q) h'),
  row(
    '4/4',
    'minims',
    'Minim triplet over the bar',
    'C5:4/3 E5:4/3 G5:4/3',
    '(3:h h h)',
    'Three equal notes over four beats are a minim triplet, not tied quavers of triplets.',
  ),
  row('4/4', 'minim-long', 'Semibreve and minim in a minim triplet', 'C5:8/3 E5:4/3', '(3:w h)'),
  row(
    '4/4',
    'semiquavers',
    'Semiquaver triplet in half a beat',
    'C5:1/6 D5:1/6 E5:1/6 G5:1/2 E5:1 C5:2',
    '(3:[s s s) e] q h',
  ),
  row(
    '4/4',
    'second-half',
    'Semiquaver triplet after a quaver',
    'G5:1/2 C5:1/6 D5:1/6 E5:1/6 E5:1 C5:2',
    '[e (3:s s s]) q h',
  ),
  row(
    '4/4',
    'rest',
    'Rest in the middle',
    'C5:1/3 r1/3 E5:1/3 G5:1 C5:2',
    '(3:[e re e]) q h',
    'A beam carries on over a rest inside its beat.',
  ),
  row('4/4', 'rest-first', 'Rest on the beat', 'r1/3 D5:1/3 E5:1/3 G5:1 C5:2', '(3:re [e e]) q h'),
  row(
    '4/4',
    'sextuplet',
    'Six semiquavers in a beat',
    'C5:1/6 D5:1/6 E5:1/6 F5:1/6 E5:1/6 D5:1/6 C5:1 G4:2',
    '(6:[s s s s s s]) q h',
  ),
  row(
    '4/4',
    'quintuplet',
    'Five in the time of four',
    'C5:1/5 D5:1/5 E5:1/5 F5:1/5 G5:1/5 E5:1 C5:2',
    '(5:[s s s s s]) q h',
  ),
  row('3/4', 'waltz', 'Triplet on beat 3', 'G4:1 C5:1 E5:1/3 D5:1/3 C5:1/3', 'q q (3:[e e e])'),
  row(
    '6/8',
    'duplet',
    'Two in the time of three',
    'C5:3/4 E5:3/4 G5:1/2 E5:1/2 C5:1/2',
    '[e. e.] [e e e]',
    'Two equal notes in a dotted beat are written as dotted values.',
  ),
  row(
    '6/8',
    'quadruplet',
    'Four in the time of six',
    'C5:3/8 E5:3/8 D5:3/8 E5:3/8 G5:1/2 E5:1/2 C5:1/2',
    '(4:[s s s s]) [e e e]',
    'Four equal notes in a dotted beat are semiquavers with a 4: a duplet halved.',
  ),
];
