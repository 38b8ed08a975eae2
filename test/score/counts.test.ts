import { expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { countOf } from '../../core/score/counts.ts';
import { metreOf } from './written.ts';

// Counting aloud: "1 e & a", triplets "1 trip let", compound beats "1 la li" (common practice, no source).
test.each([
  ['semiquavers', '4/4', 16, '1 e & a 2 e & a 3 e & a 4 e & a 1 e'],
  ['triplets', '4/4', 12, '1 trip let 2 trip let 3 trip let 4 trip let 1'],
  ['quavers of 3/4', '3/4', 8, '1 & 2 & 3 & 1'],
  ['minim beats', '2/2', 8, '1 e & a 2 e & a 1'],
  ['6/8', '6/8', 8, '1 la li 2 la li 1 la'],
  ['12/8', '12/8', 8, '1 la li 2 la li 3 la li 4 la li 1'],
  ['between the quavers of 6/8', '6/8', 16, '1 · la · li · 2 · la · li · 1'],
  ['7/8 in two, two and three', '7/8', 8, '1 & 2 & 3 la li 1 &'],
  ['3/8, one beat', '3/8', 8, '1 la li 1'],
  ['smaller places', '2/4', 32, '1 · e · & · a · 2 · e'],
] as const)('%s', (_, metre, unit, wanted) => {
  const m = metreOf(metre);
  const said = wanted.split(' ').map((_word, i) => countOf(m, fraction(i, unit)));
  expect(said.join(' ')).toBe(wanted);
});
