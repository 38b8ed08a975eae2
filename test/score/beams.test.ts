import { expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { hookSide, secondaryBreaks } from '../../core/score/beams.ts';
import type { ScoreBar } from '../../core/score/score.ts';
import { line, written } from './written.ts';

const first = (metre: string, rhythm: string, upbeat = fraction(0)): ScoreBar => {
  const [bar] = line(metre, rhythm, upbeat);
  if (bar === undefined) throw new Error('no bar');
  return bar;
};

// The stub points to the note it shares a longer value with (common practice, no source).
test.each([
  ['dotted quaver, semiquaver: back', '4/4', '3/4 1/4 3', 1, 'left'],
  ['semiquaver, dotted quaver: on', '4/4', '1/4 3/4 3', 0, 'right'],
  ['siciliano: the semiquaver completes its quaver', '6/8', '3/4 1/4 1/2 3/2', 1, 'left'],
  ['quaver, then a semiquaver that begins one', '6/8', '1/2 1/4 3/4 3/2', 1, 'right'],
  ['the last of a beam has nothing after it', '4/4', '1/2 1/4 r1/4 3', 1, 'left'],
  ['semiquaver after two, before a quaver, in the second beat', '6/8', '3/2 3/4 1/4 1/2', 2, 'left'],
  ['the first of the second beat', '6/8', '3/2 1/4 3/4 1/2', 1, 'right'],
  ['a note outside any beam', '4/4', '1/4 r3/4 3', 0, 'right'],
] as const)('%s', (_, metre, rhythm, index, side) => {
  expect(hookSide(first(metre, rhythm), index)).toBe(side);
});

// With demisemiquavers the quavers of a beat show (common practice, no source).
test.each([
  ['eight demisemiquavers: after the fourth', '4/4', '1/8 1/8 1/8 1/8 1/8 1/8 1/8 1/8 3', [[3]]],
  ['four and a quaver', '4/4', '1/8 1/8 1/8 1/8 1/2 3', [[3]]],
  ['demisemiquavers, a semiquaver, a quaver', '4/4', '1/8 1/8 1/4 1/2 3', [[2]]],
  ['quaver first', '4/4', '1/2 1/8 1/8 1/4 3', [[0]]],
  ['in the second beat', '2/4', '1 1/2 1/8 1/8 1/4', [[1]]],
  ['each of three quavers in 6/8', '6/8', '1/8 1/8 1/8 1/8 1/4 1/4 1/2 3/2', [[3, 5]]],
  ['semiquavers alone go on', '4/4', '1/4 1/4 1/4 1/4 3', [[]]],
  ['quavers alone go on', '2/4', '1/2 1/2 1/2 1/2', [[]]],
] as const)('%s', (_, metre, rhythm, wanted) => {
  const bar = first(metre, rhythm);
  expect(bar.beams.map(group => secondaryBreaks(bar, group))).toEqual(wanted);
});

// Berklee's notation guides, and for rests under a beam common practice, no source.
test.each([
  [
    '3/4: a beam of quavers over two beats stops at a rest',
    '3/4',
    '1/2 1/2 r1/2 1/2 1/2 1/2',
    '[e e] re e [e e]',
  ],
  ['3/4: a semiquaver makes every beat show', '3/4', '1/4 1/4 1/2 1/2 1/2 1/2 1/2', '[s s e] [e e] [e e]'],
  ['3/4: a crotchet between', '3/4', '1/2 1/2 1 1/2 1/2', '[e e] q [e e]'],
  ['a rest of half a beat under a beam of 6/8', '6/8', '1/2 r1/2 1/2 3/2', '[e re e] q.'],
  ['a semiquaver rest under a beam', '4/4', '1/4 r1/4 1/4 1/4 3', '[s rs s s] h.'],
  ['two rests one after the other end it', '4/4', '1/8 r1/8 r1/4 1/4 1/4 3', 't rt rs [s s] h.'],
  ['2/2: by the crotchet beats its minims hold', '2/2', '1/2 1/2 1/2 1/2 2', '[e e e e] h'],
  ['5/4: by beat', '5/4', '1/2 1/2 1/2 1/2 3', '[e e] [e e] h.'],
  ['3/8: the bar', '3/8', '1/2 1/2 1/2', '[e e e]'],
  ['triplets keep their beat', '4/4', '1/3 1/3 1/3 1/2 1/2 2', '(3:[e e e]) [e e] h'],
  [
    'the other half bar is as it was',
    '4/4',
    '1/4 1/4 1/2 1/2 1/2 1/2 1/2 1/2 1/2',
    '[s s e] [e e] [e e e e]',
  ],
] as const)('%s', (_, metre, rhythm, wanted) => {
  expect(written(line(metre, rhythm)).replace(/ q~ h$/, ' h.')).toBe(wanted);
});

test('an upbeat is beamed by the beats of the bar it belongs to', () => {
  expect(written(line('4/4', '1/2 1/2 1/2 1/2 1/2 4', fraction(5, 8)))).toBe('e [e e e e] | w');
  expect(written(line('6/8', '1/2 1/2 3', fraction(1, 4)))).toBe('[e e] | h.');
});
