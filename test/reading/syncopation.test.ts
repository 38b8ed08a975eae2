import { describe, expect, it } from 'vitest';
import { keith, longuetHigginsLee, noteToBeat, offBeatness } from '../../core/reading/syncopation.ts';

// Keith, WNBD and off-beatness: Gómez, Melvin, Rappaport, Toussaint 2005, Fig. 8 (and Fig. 11 for twelve
// steps), as carried in the tests of the open `amads` package. LHL: our own computation from the 1984 rule.
const TABLE: readonly (readonly [string, readonly number[], number, number, number, number])[] = [
  ['shiko', [0, 4, 6, 10, 12], 1, 6 / 5, 0, 2],
  ['son', [0, 3, 6, 10, 12], 2, 14 / 5, 1, 4],
  ['rumba', [0, 3, 7, 10, 12], 2, 18 / 5, 2, 5],
  ['soukous', [0, 3, 6, 10, 11], 3, 18 / 5, 2, 6],
  ['bossa-nova', [0, 3, 6, 10, 13], 3, 4, 2, 6],
  ['gahu', [0, 3, 6, 10, 14], 3, 18 / 5, 1, 5],
];

describe('syncopation of six sixteen-step rhythms', () => {
  it.each(TABLE)('%s', (_, onsets, k, w, o, l) => {
    const cycle = { onsets, steps: 16 };
    expect(keith(cycle)).toBe(k);
    expect(noteToBeat(cycle)).toBeCloseTo(w, 12);
    expect(offBeatness(cycle)).toBe(o);
    expect(longuetHigginsLee(cycle)).toBe(l);
  });

  it('is nothing for four crotchets', () => {
    const cycle = { onsets: [0, 4, 8, 12], steps: 16 };
    expect([keith(cycle), noteToBeat(cycle), offBeatness(cycle), longuetHigginsLee(cycle)]).toEqual([
      0, 0, 0, 0,
    ]);
  });
});
