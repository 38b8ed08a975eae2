import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { beatInStrikes } from '../../../core/reading/whilePlaying/beatInStrikes.ts';
import { pageSoFar } from '../../../core/reading/whilePlaying/pageSoFar.ts';
import type { Take } from '../../../core/take/take.ts';
import { played } from '../../takes/written.ts';
import { asPlayed } from './asPlayed.ts';

/** Crotchets and pairs of quavers, four bars of them. */
const BAR = [0, 0.5, 1, 1.5, 2, 3, 3.5];
const AT = [0, 4, 8, 12].flatMap(from => BAR.map(x => from + x));
const PITCH = [60, 62, 64, 65, 67, 64, 62];
const UNEVEN = [4, -6, 3, 0, -4, 7, -2, 5, -3];

const tune = (more: { swing?: number; click: boolean }): Take =>
  played({ at: AT, pitch: PITCH, off: UNEVEN, tempo: 120, ...more });
const lastPage = (take: Take): Reading => {
  const pages = asPlayed(take).flatMap(({ so }) => pageSoFar(so) ?? []);
  const page = pages.at(-1);
  if (page === undefined) throw new Error('nothing was shown');
  return page;
};
const placesOf = (page: Reading): readonly number[] => page.notes.map(n => (4 * n.onset.n) / n.onset.d);

// That unevenly struck quavers are written even under a mark: common practice, no source.
describe('swung quavers while they are played', () => {
  it.each([true, false])('are even ones under a mark (to a click: %s)', click => {
    const page = lastPage(tune({ swing: 0.62, click }));
    expect(page.swing?.unit).toEqual({ n: 1, d: 8 });
    expect(page.swing?.ratio).toBeGreaterThan(1.2);
    expect(page.swing?.ratio).toBeLessThan(2.1);
    expect(placesOf(page)).toEqual(placesOf(lastPage(tune({ click }))));
  });

  it.each([true, false])('and even quavers have no mark (to a click: %s)', click => {
    expect(lastPage(tune({ click })).swing).toBeUndefined();
  });
});

describe('the beat found in swung strikes', () => {
  it('swings as they do', () => {
    const found = beatInStrikes(tune({ swing: 0.62, click: false }).strikes);
    expect(found?.beat.swing.of).toBe('half');
    expect(found?.beat.swing.ratio).toBeGreaterThan(1.2);
    expect(beatInStrikes(tune({ click: false }).strikes)?.beat.swing.ratio).toBe(1);
  });
});

describe('a device that reports late', () => {
  it.each([true, false])(
    'law: what it reports 90 ms late is written as if at once (to a click: %s)',
    click => {
      const take = tune({ click });
      const late: Take = {
        ...take,
        latency: 90,
        strikes: take.strikes.map(s => ({ ...s, at: s.at + 0.09 })),
      };
      const [there, here] = [lastPage(late), lastPage(take)];
      expect(placesOf(there)).toEqual(placesOf(here));
      expect(there.tempo).toBeCloseTo(here.tempo, 3);
      if (!click)
        there.beats.forEach((beat, i) => {
          expect(beat).toBeCloseTo(here.beats[i] ?? NaN, 6);
        });
    },
  );
});

describe('a grace note while it is played', () => {
  it('has no place of its own, and every other note has none', () => {
    const plain = tune({ click: true });
    const lean = plain.strikes[9];
    if (lean === undefined) throw new Error('no such strike');
    const soft = { ...lean, at: lean.at - 0.05, pitch: lean.pitch - 1, velocity: 40 };
    const strikes = [...plain.strikes, soft].sort((a, b) => a.at - b.at);
    const page = lastPage({ ...plain, strikes });
    expect(placesOf(page)).toEqual(placesOf(lastPage(plain)));
    expect(page.notes.flatMap(n => (n.grace === undefined ? [] : [[n.pitch, n.grace.pitch]]))).toEqual([
      [lean.pitch, soft.pitch],
    ]);
  });
});
