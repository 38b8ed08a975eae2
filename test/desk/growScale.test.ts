import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BRACKETS, growScale } from '../../renderer/views/grow/growScale.ts';

describe('the scale of staves in Grow', () => {
  it('lets two systems of usual staves stand in a window, unless they would be too small to read', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 600, max: 1600 }), (parts, height) => {
        const scale = growScale(parts, height, false);
        // A stave with its ink takes 80 units; the frame takes 56 + 56 + 84 px (shared sketches), marks and padding 36.
        const two = 2 * parts * (80 * scale + BRACKETS) + 56 + 56 + 84 + 36;
        expect(scale).toBeGreaterThanOrEqual(0.55);
        if (scale > 0.55) expect(two).toBeLessThanOrEqual(height + 1e-9);
      }),
      { seed: 20261127 },
    );
  });

  it('never shrinks as the window grows, nor grows as parts are added', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 600, max: 1600 }), (parts, height) => {
        const scale = growScale(parts, height, false);
        expect(growScale(parts, height + 40, false)).toBeGreaterThanOrEqual(scale);
        expect(growScale(parts + 1, height, false)).toBeLessThanOrEqual(scale);
      }),
      { seed: 20261127 },
    );
  });

  it('is the usual one for one part, for two on a laptop, and where text stands under the notes', () => {
    expect([growScale(1, 768, false), growScale(2, 768, false), growScale(4, 768, true)]).toEqual([
      0.9, 0.9, 0.9,
    ]);
    expect(growScale(1, 1080, false)).toBeCloseTo(1.17);
    // 22 px is the least height of a stave on a screen (the sketches' decision).
    expect(growScale(4, 600, false) * 40).toBeCloseTo(22);
    expect(growScale(4, 768, false) * 40).toBeGreaterThan(22);
  });
});
