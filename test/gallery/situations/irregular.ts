import { COMMON, type Situation } from '../situation.ts';

const row = (
  metre: string,
  id: string,
  name: string,
  notes: string,
  written: string,
  rule: string,
): Situation => ({
  id: `${metre.replace('/', '')}-${id}`,
  name,
  metre,
  notes,
  written,
  rule,
  source: COMMON,
});

/** 5/4, 5/8 and 7/8. */
export const IRREGULAR: readonly Situation[] = [
  row('5/4', 'crotchets', 'Five crotchets', 'C5:1 D5:1 E5:1 G5:1 E5:1', 'q q q q q', '5/4 as 3+2.'),
  row('5/4', 'groups', 'Dotted minim and minim', 'C5:3 E5:2', 'h. h', '5/4 as 3+2.'),
  row('5/4', 'across', 'A minim across the second group is tied', 'C5:2 D5:2 E5:1', 'h q~ q q', 'The start of the second group shows.'),
  row('5/4', 'quavers', 'Quavers by the beat', 'C5:1/2 D5:1/2 E5:1/2 D5:1/2 C5:1 E5:1/2 G5:1/2 E5:1', '[e e] [e e] q [e e] q', 'Beams show the beat.'),
  row('5/8', 'quavers', 'Three and two', 'C5:1/2 D5:1/2 E5:1/2 G5:1/2 E5:1/2', '[e e e] [e e]', '5/8 as 3+2 quavers.'),
  row('5/8', 'long', 'Dotted crotchet and crotchet', 'C5:3/2 E5:1', 'q. q', '5/8 as 3+2 quavers.'),
  row('5/8', 'across', 'A crotchet across the groups is tied', 'C5:1 D5:1 E5:1/2', 'q e~ [e e]', 'The start of the second group shows.'),
  row('5/8', 'semiquavers', 'Semiquavers', 'C5:1/4 D5:1/4 E5:1/2 D5:1/2 C5:1/2 E5:1/2', '[s s e e] [e e]', 'Beams show the groups.'),
  row('7/8', 'quavers', 'Two, two and three', 'C5:1/2 D5:1/2 E5:1/2 F5:1/2 G5:1/2 F5:1/2 E5:1/2', '[e e] [e e] [e e e]', '7/8 as 2+2+3 quavers.'),
  row('7/8', 'long', 'Crotchets and a dotted crotchet', 'C5:1 E5:1 G5:3/2', 'q q q.', '7/8 as 2+2+3 quavers.'),
  row('7/8', 'across', 'Across a group is tied', 'C5:1/2 D5:1 E5:1/2 G5:3/2', '[e e~] [e e] q.', 'Every group shows.'),
  row('7/8', 'rest', 'Rests by the group', 'r1 C5:1/2 r1/2 E5:1/2 G5:1/2 C5:1/2', 'rq e re [e e e]', 'Every group shows.'),
];
