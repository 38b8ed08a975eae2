import { BERKLEE, COMMON, type Situation } from '../situation.ts';

const row = (
  metre: string,
  id: string,
  name: string,
  notes: string,
  written: string,
  rule: string,
  source: string = BERKLEE,
): Situation => ({ id: `${metre.replace('/', '')}-${id}`, name, metre, notes, written, rule, source });

/** 3/4, 2/4 and 2/2. */
export const SIMPLE: readonly Situation[] = [
  row('3/4', 'quavers', 'Quavers by the bar', 'C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 E5:1/2', '[e e e e e e]', '3/4 is beamed by beats or the whole bar.'),
  row('3/4', 'never-6-8', 'Never three and three', 'C5:3/2 D5:1/2 E5:1/2 F5:1/2', 'q. e [e e]', '3/4 is never beamed 3+3.'),
  row('3/4', 'minim-first', 'Minim and crotchet', 'E5:2 C5:1', 'h q', 'Whole beats may join.'),
  row('3/4', 'minim-second', 'Crotchet and minim', 'E5:1 C5:2', 'q h', 'Whole beats may join.'),
  row('3/4', 'dotted-minim', 'Dotted minim', 'C5:3', 'h.', 'One value fills the bar.'),
  row('3/4', 'rests', 'Two beats of rest', 'C5:1 r2', 'q rq rq', 'No minim rest in 3/4.', COMMON),
  row('3/4', 'semiquavers', 'Semiquavers by the beat', 'C5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/2 F5:1/2 G5:1', '[s s s s] [e e] q', 'With semiquavers every beat shows.'),
  row('3/4', 'off-beat', 'Off-beat crotchets', 'C5:1/2 D5:1 E5:1 G5:1/2', 'e q q e', 'A crotchet may cross one beat when it lies in its middle.'),
  row('3/4', 'mazurka', 'Dotted quaver, semiquaver, two crotchets', 'E5:3/4 D5:1/4 C5:1 G5:1', '[e. s] q q', 'With semiquavers every beat shows.'),
  row('2/4', 'quavers', 'Quavers by the bar', 'C5:1/2 D5:1/2 E5:1/2 G5:1/2', '[e e e e]', '2/4 is beamed by the bar when only quavers are in it.'),
  row('2/4', 'syncopa', 'Quaver, crotchet, quaver', 'C5:1/2 E5:1 G5:1/2', 'e q e', 'Quaver-crotchet-quaver is fine.'),
  row('2/4', 'semiquavers', 'Quaver and semiquavers', 'C5:1/2 E5:1/4 D5:1/4 C5:1/4 D5:1/4 E5:1/2', '[e s s] [s s e]', 'With semiquavers every beat shows.'),
  row('2/4', 'dotted', 'Dotted crotchet and quaver', 'C5:3/2 D5:1/2 E5:2', 'q. e | h', 'A dotted crotchet on the beat stands.'),
  row('2/4', 'rest', 'Rest and answer', 'r1/2 E5:1/2 C5:1', 're e q', 'A rest shows the beat.', COMMON),
  row('2/2', 'crotchets', 'Crotchets and a minim', 'C5:1 D5:1 E5:2', 'q q h', 'The minim is the beat.'),
  row('2/2', 'across', 'Minim across the middle', 'C5:1 E5:2 G5:1', 'q h q', 'Crotchet-minim-crotchet: the syncopated figure of a minim beat.'),
  row('2/2', 'quavers', 'Quavers by the minim', 'C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:2', '[e e e e] h', 'Beams show the minim beat.'),
  row('2/2', 'dotted-minim', 'Dotted minim and crotchet', 'C5:3 G4:1 C5:4', 'h. q | w', 'A dotted minim on the beat stands.'),
];
