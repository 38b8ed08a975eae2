import { describe, expect, it } from 'vitest';
import { show, times } from '../../../core/foundation/fraction.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import type { SwingTolerance } from '../../../core/reading/model/reading.ts';
import type { Take } from '../../../core/take/take.ts';

const BEAT = 0.55;
/** Two bars of off-beats at a ratio of long to short, each strike a few ms off, in a fixed pattern. */
const swungTake = (ratio: number): Take => ({
  id: 't',
  capturedAt: '2026-01-05T09:00:00.000Z',
  source: 'midi',
  from: 'Pad 25',
  latency: 0,
  lengthsMean: false,
  click: { metre: metre(4, 4), beats: Array.from({ length: 9 }, (_, i) => i * BEAT) },
  strikes: [0, 0.5, 1, 1.5, 2, 3, 3.5, 4, 4.5, 5, 6, 6.5, 7].map((at, i) => ({
    at: (Math.floor(at) + (at % 1 === 0 ? 0 : ratio / (1 + ratio))) * BEAT + 0.006 * ((i % 5) - 2),
    pitch: 60 + (i % 4),
    velocity: 90,
  })),
});
const places = (ratio: number, swingTolerance: SwingTolerance): string =>
  readTake(swungTake(ratio), { swingTolerance })[0]
    ?.notes.map(n => show(times(n.onset, 4)))
    .join(' ') ?? '';
const EVEN = '0 1/2 1 3/2 2 3 7/2 4 9/2 5 6 13/2 7';

// What swing tolerance means (common practice, no source): within it quavers are written even under a
// swing mark, beyond it as they are played, in triplets or dotted figures.
describe('swing tolerance', () => {
  it('writes 2 : 1 even under a swing mark where the tolerance allows it, in triplets where it does not', () => {
    expect(places(2, 'medium')).toBe(EVEN);
    expect(readTake(swungTake(2), { swingTolerance: 'medium' })[0]?.swing).toBeDefined();
    expect(places(2, 'none')).toBe('0 2/3 1 5/3 2 3 11/3 4 14/3 5 6 20/3 7');
  });
  it('writes 3 : 1 beyond the tolerance as dotted figures', () => {
    expect(places(3, 'low')).toBe('0 3/4 1 7/4 2 3 15/4 4 19/4 5 6 27/4 7');
  });
  it('leaves even playing even under any tolerance', () => {
    for (const tolerance of ['none', 'low', 'medium', 'high'] as const)
      expect(places(1, tolerance)).toBe(EVEN);
  });
});
