import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fraction, show, toNumber } from '../../core/foundation/fraction.ts';
import { barLength, beatStarts } from '../../core/foundation/metre.ts';
import { countOf, unstruckBeats } from '../../core/score/counts.ts';
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

test('beats on which nothing is struck, from an upbeat on', () => {
  const silent = unstruckBeats(metreOf('3/4'), fraction(-1, 4), fraction(6, 4), [
    fraction(-1, 4),
    fraction(0),
    fraction(3, 8),
    fraction(1),
  ]);
  // Upbeat on 3 and 1 are struck; 2 (over which a note is struck on its half) and 3 are not; then 1 and 3.
  expect(silent.map(beat => `${show(beat.at)}: ${beat.count}`)).toEqual([
    '1/4: 2',
    '1/2: 3',
    '3/4: 1',
    '5/4: 3',
  ]);
});

test('law: every beat of a stretch is struck or counted silently, never both, each under its own number', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('4/4', '3/4', '6/8', '5/8', '7/8', '2/2', '12/8', '3/8'),
      fc.integer({ min: -8, max: 16 }),
      fc.integer({ min: 1, max: 48 }),
      fc.uniqueArray(fc.integer({ min: -8, max: 64 }), { maxLength: 30 }),
      (name, first, length, at) => {
        const m = metreOf(name);
        const [from, to] = [fraction(first, 16), fraction(first + length, 16)];
        const struck = at.map(n => fraction(n, 16));
        const silent = unstruckBeats(m, from, to, struck);
        const bar = toNumber(barLength(m));
        const wanted: string[] = [];
        for (let k = -3; k < 40; k++)
          for (const [i, start] of beatStarts(m).entries()) {
            const place = k * bar + toNumber(start);
            const isHere = place >= first / 16 && place < (first + length) / 16;
            if (isHere && !at.some(n => n / 16 === place)) wanted.push(`${String(place)} ${String(i + 1)}`);
          }
        expect(silent.map(beat => `${String(toNumber(beat.at))} ${beat.count}`)).toEqual(wanted);
      },
    ),
    { numRuns: 200, seed: 5 },
  );
});
