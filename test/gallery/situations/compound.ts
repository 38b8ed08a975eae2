import { BERKLEE, COMMON, type Situation } from '../situation.ts';

const BY_BEAT = 'Compound metres are beamed and cut at each dotted crotchet.';

const row = (
  metre: string,
  id: string,
  name: string,
  notes: string,
  written: string,
  rule: string = BY_BEAT,
  source: string = BERKLEE,
): Situation => ({ id: `${metre.replace('/', '')}-${id}`, name, metre, notes, written, rule, source });

/** 6/8, 9/8 and 12/8. */
export const COMPOUND: readonly Situation[] = [
  row('6/8', 'quavers', 'Quavers in threes', 'C5:1/2 D5:1/2 E5:1/2 G5:1/2 E5:1/2 D5:1/2', '[e e e] [e e e]'),
  row('6/8', 'jig', 'Crotchet and quaver', 'C5:1 D5:1/2 E5:1 G5:1/2', 'q e q e'),
  row('6/8', 'siciliano', 'Dotted quaver, semiquaver, quaver', 'E5:3/4 F5:1/4 E5:1/2 G5:3/2', '[e. s e] q.'),
  row('6/8', 'hemiola', 'Three crotchets', 'C5:1 D5:1 E5:1', 'q e~ e q'),
  row('6/8', 'dotted-minim', 'Dotted minim', 'C5:3', 'h.'),
  row(
    '6/8',
    'semiquavers',
    'Semiquavers',
    'C5:1/4 D5:1/4 E5:1/4 F5:1/4 G5:1/4 F5:1/4 E5:1 C5:1/2',
    '[s s s s s s] q e',
  ),
  row('6/8', 'late', 'Quaver tied over the beat', 'C5:1 D5:1 E5:1/2 C5:1/2', 'q e~ [e e e]'),
  row(
    '6/8',
    'beam-over-rest',
    'Beam over a quaver rest',
    'C5:1/2 r1/2 E5:1/2 G5:1/2 r1/2 E5:1/2',
    '[e re e] [e re e]',
    'A beam carries on over a rest inside its beat.',
    COMMON,
  ),
  row(
    '6/8',
    'beat-rest',
    'A beat of rest',
    'r3/2 C5:1/2 D5:1/2 E5:1/2',
    'rq. [e e e]',
    'A dotted rest stands for a whole beat of compound time.',
    COMMON,
  ),
  row(
    '6/8',
    'end-rests',
    'Rests that end a beat',
    'C5:1/2 r1 E5:1 r1/2',
    'e re re q re',
    'A rest may not hide the third quaver of a beat.',
    COMMON,
  ),
  row(
    '9/8',
    'quavers',
    'Quavers in threes',
    'C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 F5:1/2 E5:1/2 D5:1/2 C5:1/2',
    '[e e e] [e e e] [e e e]',
  ),
  row(
    '9/8',
    'mixed',
    'Three ways to fill a beat',
    'C5:3/2 D5:1 E5:1/2 F5:1/2 E5:1/2 D5:1/2',
    'q. q e [e e e]',
  ),
  row('9/8', 'long', 'Dotted minim and a beat', 'C5:3 G4:3/2', 'h. q.'),
  row('9/8', 'whole', 'A bar held through', 'C5:9/2', 'h.~ q.', 'No single value fills 9/8.'),
  row(
    '12/8',
    'shuffle',
    'Crotchet and quaver',
    'C5:1 D5:1/2 E5:1 G5:1/2 A5:1 G5:1/2 E5:1 D5:1/2',
    'q e q e q e q e',
  ),
  row('12/8', 'halves', 'Half bars', 'C5:3 G4:3', 'h. h.'),
  row(
    '12/8',
    'middle',
    'Across the middle is tied',
    'C5:3/2 E5:3 G5:3/2',
    'q. q.~ q. q.',
    'Beat 3 of four shows.',
  ),
  row(
    '12/8',
    'quavers',
    'Quavers in threes',
    'C5:1/2 D5:1/2 E5:1/2 C5:1/2 D5:1/2 E5:1/2 G5:1/2 E5:1/2 D5:1/2 C5:3/2',
    '[e e e] [e e e] [e e e] q.',
  ),
];
