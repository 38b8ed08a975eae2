import { describe, expect, it } from 'vitest';
import { add, fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { toldApart } from '../../core/piece/toldApart.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { goldenTake } from '../reading/golden/goldenTakes.ts';

const onsets = (reading: Reading): string =>
  JSON.stringify([reading.metre, [...reading.notes].sort((a, b) => a.strike - b.strike).map(n => n.onset)]);

describe('what sets readings apart', () => {
  it('is in words that no two of them share, unless every note stands at the same place', () => {
    let same = 0;
    for (let k = 0; k < 14; k++) {
      const { take, hints } = goldenTake(k);
      const readings = readTake(take, hints);
      const words = toldApart(readings);
      same += new Set(readings.map(r => r.reason)).size < readings.length ? 1 : 0;
      expect(new Set(words).size).toBeGreaterThanOrEqual(new Set(readings.map(onsets)).size);
      words.forEach((said, i) => {
        expect(said.startsWith(readings[i]?.reason ?? '?')).toBe(true);
      });
    }
    // Among these takes there are some whose readings have the same reason.
    expect(same).toBeGreaterThan(0);
  });

  it('is the first note that stands otherwise, and then the next', () => {
    const [found] = readTake(
      {
        id: 'four',
        capturedAt: '',
        source: 'midi',
        from: 'pad',
        latency: 0,
        lengthsMean: false,
        click: { metre: metre(4, 4), beats: [0, 0.5, 1, 1.5, 2] },
        strikes: [0, 0.5, 1, 1.5].map(at => ({ at, pitch: 60, velocity: 90 })),
      },
      {},
    );
    if (found === undefined) throw new Error('a reading');
    const later = (strikes: readonly number[]): Reading => ({
      ...found,
      notes: found.notes.map(n =>
        strikes.includes(n.strike) ? { ...n, onset: add(n.onset, fraction(1, 8)) } : n,
      ),
    });
    expect(toldApart([later([1]), later([1, 2]), later([3])])).toEqual([
      `${found.reason}, note 2 at bar 1, 2 &, note 3 at bar 1, 3`,
      `${found.reason}, note 2 at bar 1, 2 &, note 3 at bar 1, 3 &`,
      `${found.reason}, note 2 at bar 1, 2`,
    ]);
    expect(toldApart([found, { ...later([1]), reason: 'another' }])).toEqual([found.reason, 'another']);
    expect(toldApart([found, found])).toEqual([found.reason, found.reason]);
  });
});
