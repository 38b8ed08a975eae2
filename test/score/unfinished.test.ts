import { expect, it } from 'vitest';
import { key } from '../../core/foundation/key.ts';
import { readTake } from '../../core/reading/read.ts';
import { scoreOfReading } from '../../core/score/fromReading.ts';
import type { Score } from '../../core/score/score.ts';
import { lastBars } from '../../core/score/unfinished.ts';
import { played } from '../takes/written.ts';

const scoreOf = (at: readonly number[]): Score => {
  const [reading] = readTake(played({ at }));
  if (reading === undefined) throw new Error('nothing was read');
  return scoreOfReading(reading, key('C'), 'xylophone', '', '');
};
/** Of each bar, its number and its symbols: n for notes, r for rests. */
const shape = (score: Score): string[] =>
  (score.parts[0]?.bars ?? []).map(
    bar => `${String(bar.number)}:${bar.symbols.map(s => (s.pitches.length > 0 ? 'n' : 'r')).join('')}`,
  );

// Our choice: a page that is being written ends with its last note, for nobody knows what comes next.
it('a score under way ends with its last note', () => {
  const score = scoreOf([0, 1, 2, 3, 4, 6]);
  expect(shape(score)).toEqual(['1:nnnn', '2:nnr']);
  const last = lastBars(score, 8);
  expect(shape(last)).toEqual(['1:nnnn', '2:nn']);
  expect([last.barCount, last.unfinished]).toEqual([2, true]);
});

it('only the last bars are left, rests between notes stay', () => {
  const score = scoreOf([0, 1, 2, 3, 7, 8, 9, 10]);
  const last = lastBars(score, 2);
  expect(shape(score)[1]).toMatch(/^2:r+n$/);
  expect(shape(last)).toEqual([shape(score)[1], '3:nnn']);
  expect(last.barCount).toBe(2);
});
