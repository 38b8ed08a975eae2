import fc from 'fast-check';
import { expect, test } from 'vitest';
import { toNumber } from '../../core/foundation/fraction.ts';
import { metre, OFFERED_METRES, parseMetre, tactus } from '../../core/foundation/metre.ts';
import { positionAtSeconds, secondsAtPosition, strikePositions } from '../../core/piece/strikePositions.ts';
import type { Take } from '../../core/take/take.ts';

test('a strike half way between two beats is written half way between them, in every metre', () => {
  for (const name of OFFERED_METRES) {
    const m = parseMetre(name) ?? metre(4, 4);
    const step = toNumber(tactus(m));
    const reading = { metre: m, beats: [1, 1.5, 2, 2.6, 3.2, 3.8, 4.4, 5], firstBeat: 1 };
    expect(positionAtSeconds(reading, 1.5)).toBeCloseTo(0, 12);
    expect(positionAtSeconds(reading, 2.3)).toBeCloseTo(1.5 * step, 12);
    expect(positionAtSeconds(reading, 0.5)).toBeCloseTo(-2 * step, 12);
    expect(positionAtSeconds(reading, 5.6)).toBeCloseTo(7 * step, 12);
  }
});

test('places and moments undo one another', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0.2, max: 1.5, noNaN: true }), { minLength: 2, maxLength: 20 }),
      fc.nat(5),
      fc.double({ min: -2, max: 6, noNaN: true }),
      (gaps, firstBeat, place) => {
        let at = 0;
        const beats = [0, ...gaps.map(gap => (at += gap))];
        const reading = { metre: metre(6, 8), beats, firstBeat };
        expect(positionAtSeconds(reading, secondsAtPosition(reading, place))).toBeCloseTo(place, 9);
      },
    ),
  );
});

test('what the device reports late is taken off first', () => {
  const take: Take = {
    id: 't',
    capturedAt: '',
    source: 'midi',
    from: 'pad',
    latency: 40,
    lengthsMean: false,
    strikes: [{ at: 1.04, pitch: 60, velocity: 80 }],
  };
  const reading = { metre: metre(4, 4), beats: [0.5, 1, 1.5], firstBeat: 0 };
  expect(strikePositions(take, reading)[0]).toBeCloseTo(0.25, 9);
});
