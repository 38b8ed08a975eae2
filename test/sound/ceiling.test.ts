import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CEILING, KNEE, limited } from '../../renderer/sound/ceiling.ts';
import { factor } from '../../renderer/sound/mixer.ts';

describe('the limiter', () => {
  it('lets nothing beyond its ceiling, whatever comes in', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true }), sample => {
        expect(Math.abs(limited(sample))).toBeLessThanOrEqual(CEILING);
      }),
    );
  });

  it('passes what is below its knee untouched', () => {
    fc.assert(
      fc.property(fc.double({ min: -KNEE, max: KNEE, noNaN: true }), sample => {
        expect(limited(sample)).toBe(sample);
      }),
    );
  });

  it('never makes the louder of two samples the softer', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9, max: 9, noNaN: true }),
        fc.double({ min: 0, max: 9, noNaN: true }),
        (a, more) => {
          expect(limited(a + more)).toBeGreaterThanOrEqual(limited(a));
        },
      ),
    );
  });
});

describe('the volume', () => {
  it('goes by decibels: -6.02 dB is half, -20 dB a tenth', () => {
    expect(factor(-6.0206)).toBeCloseTo(0.5, 5);
    expect(factor(-20)).toBeCloseTo(0.1, 9);
  });

  it('is nothing at -60 dB and never more than full', () => {
    expect(factor(-60)).toBe(0);
    expect(factor(12)).toBe(1);
  });
});
