import { expect, test } from 'vitest';
import { readTake } from '../../../core/reading/read.ts';
import { played, places } from '../../takes/written.ts';

const OFF = [6, -9, 12, -5, 8, -11, 4, -7, 10, -3, 9, -8];

test('a note played at two places in two kinds of repeat is written at both, never between', () => {
  // Twice with the second note a quarter after the beat, twice with it on the half.
  const at = [0, 4, 8, 12].flatMap((bar, k) => [bar, bar + (k < 2 ? 2.25 : 2.5), bar + 3, bar + 3.5]);
  const pitch = [0, 1, 2, 3].flatMap(() => [60, 64, 67, 64]);
  const [best] = readTake(played({ at, pitch, off: OFF, tempo: 120 }));
  expect(places(best)).toEqual(at);
});

test('two notes an uneven player ran together once are two notes where the repeats say so', () => {
  const at = [0, 4, 8, 12].flatMap(bar => [bar, bar + 1, bar + 1.25, bar + 2, bar + 3]);
  const pitch = [0, 1, 2, 3].flatMap(() => [60, 62, 64, 65, 67]);
  // In the third playing the two fall 25 ms apart: alone they would be a chord.
  const off = at.map((_, i) => (i === 11 ? 52 : i === 12 ? -64 : (OFF[i % OFF.length] ?? 0)));
  const [best] = readTake(played({ at, pitch, off, tempo: 106 }));
  expect(places(best)).toEqual(at);
});
