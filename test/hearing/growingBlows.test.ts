import { describe, expect, it } from 'vitest';
import { growingBlows } from '../../core/hearing/growingBlows.ts';
import { knownBlows } from '../../core/hearing/knownBlows.ts';
import { noise } from './bars.ts';

const blow = (band: number, at: number, loudness = 0.1) => ({ band, loudness, rose: at, at });

describe('blows that come and go', () => {
  it('law: the last on a bar is that of all that are there by then', () => {
    const random = noise(2);
    const bandAt = () => 40 + Math.floor(4 * Math.abs(random()));
    const base = Array.from({ length: 40 }, () => blow(bandAt(), 5 + 5 * random()));
    const known = growingBlows(base);
    let there = [...base];
    for (let at = 0.05; at < 10; at += 0.31) {
      if (random() > 0) {
        const one = blow(bandAt(), at);
        known.add(one);
        there = [...there, one];
      } else {
        const gone = base.find(one => there.includes(one) && one.at > at - 2);
        if (gone !== undefined) known.remove(gone);
        there = there.filter(one => one !== gone);
      }
      for (const bar of [39, 40, 41, 42, 44])
        for (const back of [0, 0.1, 3])
          expect(known.lastOn(bar, at - back)).toBe(knownBlows(there).lastOn(bar, at - back));
    }
  });

  it('which bars there are, and how loud, is as it was', () => {
    const known = growingBlows([blow(40, 1), blow(40, 2), blow(50, 3)]);
    known.add(blow(50, 4, 9));
    known.add(blow(60, 5));
    expect([known.bars, known.usualOn(50)]).toEqual([[40, 50], 0.1]);
  });
});

describe('what is known of the bars of a take', () => {
  it('how often one is struck, and when first, those beside it too, but not at the very beginning', () => {
    const all = [blow(40, 3), blow(41, 1), blow(40, 0), blow(44, 2), blow(39, 2)];
    const known = knownBlows(all);
    expect([40, 41, 43, 60].map(known.timesOn)).toEqual([4, 3, 1, 0]);
    expect(known.firstOn(40, 2).map(one => one.at)).toEqual([1, 2]);
    expect(known.firstOn(40, 9).map(one => one.at)).toEqual([1, 2, 3]);
    expect(known.lastOn(40, 3, new Set(all.filter(one => one.at === 2)))?.at).toBe(1);
  });
});
