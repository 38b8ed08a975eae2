import { describe, expect, it } from 'vitest';
import { openSpoilt, spoilt } from './spoilt.ts';
import { chance } from './chance.ts';

// The short form of `npm run torture`: spoilt files are opened as what they were, or refused in sentences.
describe('spoilt files', () => {
  it('of every kind are opened or refused; nothing is thrown, and no other piece is taken for a saved one', async () => {
    const reports = await openSpoilt(400, 7);
    expect(reports.map(({ kind }) => kind)).toEqual([
      'portable files',
      'saved pieces',
      'MIDI files',
      'WAV files',
    ]);
    for (const { tried, opened, refused, faults } of reports) {
      expect(faults).toEqual([]);
      expect(opened + refused).toBe(tried);
      expect(refused).toBeGreaterThan(0);
    }
  }, 60_000);

  it('are spoilt, and alike for the same seed', () => {
    const whole = Uint8Array.from({ length: 200 }, (_, i) => i);
    const [one, again, other] = [1, 1, 2].map(seed => spoilt(whole, chance(seed)));
    expect(one).toEqual(again);
    expect(one).not.toEqual(other);
    expect(one).not.toEqual(whole);
    expect(spoilt(new Uint8Array(0), chance(1))).toHaveLength(0);
  });
});
