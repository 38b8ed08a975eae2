import { expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { clefFor } from '../../core/score/engrave.ts';

const clef = (pitches: readonly number[], instrument?: InstrumentId): string =>
  clefFor(
    pitches.map((pitch, i) => ({
      onset: fraction(i),
      duration: fraction(1),
      pitch: spell(key('C'), pitch),
      ref: '',
    })),
    instrument,
  );

// Only a marimba is read in the bass clef, when most of its notes lie below A3 (common practice, no source).
it('a marimba that plays mostly below A3 has the bass clef', () => {
  expect(clef([48, 50, 72])).toBe('bass');
  expect(clef([56, 56])).toBe('bass');
  expect(clef([57, 57, 56])).toBe('treble');
  expect(clef([48, 72])).toBe('treble');
  expect(clef([72, 74, 76])).toBe('treble');
  expect(clef([])).toBe('treble');
  expect(clef([48, 50], 'xylophone')).toBe('treble');
});
