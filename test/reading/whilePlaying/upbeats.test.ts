import { describe, expect, it } from 'vitest';
import { ZERO } from '../../../core/foundation/fraction.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { firstHints } from '../../../core/piece/rereading.ts';
import { readTake } from '../../../core/reading/read.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import { played, places, type Played } from '../../takes/written.ts';
import { asPlayed } from './asPlayed.ts';

/** Every page that is shown while a take is played to a click. */
const pagesOf = (take: ReturnType<typeof played>) => asPlayed(take).flatMap(({ so }) => pageSoFar(so) ?? []);

describe('a phrase that begins in the middle of a bar of its click', () => {
  // Upbeats as songbooks print them (`test/take/upbeatToClick.test.ts` names the songs), and bars that begin with rests.
  it.each<readonly [string, Played]>([
    ['a crotchet', { at: [3, 4, 5.5, 6, 7, 8, 9, 10] }],
    ['half a bar', { at: [2, 3, 4, 5, 6, 7, 8] }],
    ['two quavers in 3/4', { at: [2, 2.5, 3, 4.5, 5, 6, 7, 8], metre: metre(3, 4) }],
    ['a quaver in 6/8', { at: [2.5, 3, 4, 4.5, 5.5, 6, 7.5], metre: metre(6, 8) }],
    ['a crotchet, late by some', { at: [3, 4, 5, 6, 7, 8, 9], off: [14, -8, 11, 3, -12] }],
    ['three of four beats', { at: [1, 2, 3, 4, 5, 6, 7, 8] }],
    ['no barline struck', { at: [2, 3, 6, 7, 10, 11] }],
    ['nothing before', { at: [0, 1, 2, 3, 4, 5] }],
  ])('is shown in the end as it is caught: %s', (_, plain) => {
    const take = played(plain);
    const page = pagesOf(take).at(-1);
    const [caught] = readTake(take, firstHints(take));
    expect(page?.upbeat).toEqual(caught?.upbeat);
    expect(places(page)).toEqual(places(caught).slice(0, page?.notes.length));
  });

  it('has rests before it until its barline is struck, and never again', () => {
    const pages = pagesOf(played({ at: [3, 3.5, 4, 5, 6, 7, 8, 9, 10, 11, 12] }));
    const upbeats = pages.map(page => page.upbeat.n > 0);
    expect(pages[0]?.upbeat).toEqual(ZERO);
    expect(upbeats.lastIndexOf(false)).toBeLessThan(upbeats.indexOf(true));
    // Bars that go out of sight take the upbeat with them.
    const long = pagesOf(played({ at: Array.from({ length: 60 }, (_, i) => i + 3) })).at(-1);
    expect([long?.upbeat, places(long)[0]]).toEqual([ZERO, 0]);
  });

  it('is no upbeat where the beat was found in the strikes alone', () => {
    const at = [3, ...Array.from({ length: 6 }, (_, b) => [4, 5, 6, 6.5, 7].map(x => x + 4 * b)).flat()];
    const pages = pagesOf(played({ at, click: false }));
    expect(pages.length).toBeGreaterThan(0);
    expect(pages.every(page => page.upbeat.n === 0)).toBe(true);
  });
});
