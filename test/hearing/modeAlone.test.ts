import { describe, expect, it } from 'vitest';
import type { BandOnset } from '../../core/hearing/bandOnsets.ts';
import type { PitchBands } from '../../core/hearing/bands.ts';
import type { Blow } from '../../core/hearing/blow.ts';
import { withBarsOfLoneModes } from '../../core/hearing/modeAlone.ts';
import { bandsOf } from './quarterToneBands.ts';

const LOOKS = 1000;
/** A C5 (72) and its third mode, 6.7 times as high: the third mode of a uniform bar is at 5.4, of a tuned one at 6. */
const BAR = 54;
const MODE = BAR + 66;

/** The bar swells by so many dB at these moments. */
const bandsWith = (swells: readonly number[], by: number): PitchBands =>
  bandsOf(LOOKS, (band, at) => {
    const isUp = swells.some(from => at >= from && at < from + 0.2);
    return band === BAR ? 0.01 * (isUp ? 10 ** (by / 20) : 1) : 0.001;
  });
const begins = (band: number, at: number, loudness: number): BandOnset => ({
  band,
  at,
  loudness,
  rise: 20,
  contrast: 25,
  sustain: 0.7,
});
const blow = (band: number, at: number, loudness = 0.03): Blow => ({ band, at, rose: at, loudness });
const bandsOfBlows = (
  times: number,
  alone: number,
  { by = 10, mode = 0.1, swells = [0.5, 1, 1.5, 2] } = {},
): readonly number[] => {
  const both = [0.5, 1, 1.5].slice(0, times);
  const lone = [2, 2.3, 2.6].slice(0, alone);
  const beginnings = [
    ...both.flatMap(at => [begins(BAR, at, 0.03), begins(MODE, at, mode)]),
    ...lone.map(at => begins(MODE, at, mode)),
  ];
  const blows = [...both.map(at => blow(BAR, at)), ...lone.map(at => blow(MODE, at, mode))];
  return withBarsOfLoneModes(bandsWith(swells, by), beginnings, blows).map(one => one.band);
};

describe('a blow of which only a mode stands out', () => {
  it('is on the bar that mode was heard with before, where that bar swells', () => {
    expect(bandsOfBlows(2, 1)).toEqual([BAR, BAR, BAR]);
  });

  it('stays what it is where the bar does not swell, or hardly', () => {
    expect(bandsOfBlows(2, 1, { swells: [0.5, 1] })).toEqual([BAR, BAR, MODE]);
    expect(bandsOfBlows(2, 1, { by: 3 })).toEqual([BAR, BAR, MODE]);
  });

  it('stays where both were heard together only once, or less often than it alone', () => {
    expect(bandsOfBlows(1, 1)).toEqual([BAR, MODE]);
    const two = [0.5, 1, 2, 2.3, 2.6];
    expect(bandsOfBlows(2, 3, { swells: two })).toEqual([BAR, BAR, MODE, MODE, MODE]);
    expect(bandsOfBlows(2, 2, { swells: two })).toEqual([BAR, BAR, BAR, BAR]);
  });

  it('stays where the mode was softer than the bar: such a mode does not stand alone', () => {
    expect(bandsOfBlows(2, 1, { mode: 0.02 })).toEqual([BAR, BAR, MODE]);
  });

  it('is not on a bar that is far softer than its mode', () => {
    expect(bandsOfBlows(2, 1, { mode: 1 })).toEqual([BAR, BAR, MODE]);
  });
});
