import { describe, expect, it } from 'vitest';
import {
  groupingsOf,
  metre,
  metreInWords,
  METRES_TO_CHOOSE,
  OFFERED_METRES,
} from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import { HANDS, IDIOMS, playIdiom } from '../../takes/idioms.ts';
import { played, places } from '../../takes/written.ts';

const grouped = IDIOMS.filter(i => i.metre.groups !== undefined);
const read = (at: readonly number[], upper: number, extra: Partial<Parameters<typeof played>[0]> = {}) =>
  readTake(played({ at, metre: metre(upper, 8), tempo: 120, off: [9, -12, 6, -8, 14], ...extra }))[0];

// Groups begin where something is struck, long or loud: common practice, no source.
describe('fives and sevens to a click that says no grouping', () => {
  it.each(grouped.flatMap(idiom => HANDS.map(hand => [idiom.name, hand, idiom] as const)))(
    '%s is heard (hand %d)',
    (_, hand, idiom) => {
      const { take, notes } = playIdiom(idiom, hand, 'click');
      const { beats } = take.click ?? { beats: [] };
      const page = readTake({ ...take, click: { metre: metre(idiom.metre.upper, 8), beats } })[0];
      expect(page?.metre.groups).toEqual(idiom.metre.groups);
      expect(places(page)).toEqual(notes.map(n => n.at));
    },
  );

  it('loud strokes tell it in a run of quavers; even ones leave the usual grouping', () => {
    const at = Array.from({ length: 28 }, (_, i) => i / 2);
    expect(read(at, 7)?.metre.groups).toEqual([2, 2, 3]);
    const take = played({ at, metre: metre(7, 8), tempo: 120 });
    const accented = take.strikes.map((s, i) => ({ ...s, velocity: [0, 3, 5].includes(i % 7) ? 115 : 70 }));
    expect(readTake({ ...take, strikes: accented })[0]?.metre.groups).toEqual([3, 2, 2]);
  });

  it('long notes tell it where everything else is alike', () => {
    const at = Array.from({ length: 12 }, (_, b) => [0, 1, 1.5, 2, 2.5].map(x => x + 3.5 * b)).flat();
    const page = read(at, 7, { pitch: [60] });
    // Something begins on the sixth quaver, which is held.
    expect(page?.metre.groups?.at(-1)).toBe(2);
  });

  it('a single bar turns it only where it is plain', () => {
    expect(read([0, 1.5, 2, 2.5, 3], 7)?.metre.groups).toEqual([2, 2, 3]);
    expect(read([0, 1.5, 2.5, 3.5, 5, 6], 7)?.metre.groups).toEqual([3, 2, 2]);
  });

  it('what the teacher chose is not heard otherwise, with a click, with taps, nor in 4/4', () => {
    const three = grouped.find(i => i.name === '7/8 in 3+2+2');
    if (three === undefined) throw new Error('no such idiom');
    const { take } = playIdiom(three, 1, 'click');
    expect(readTake(take, { metre: metre(7, 8) })[0]?.metre.groups).toEqual([2, 2, 3]);
    expect(read([0, 1, 2, 3, 4, 5, 6, 7], 4, { metre: metre(4, 4) })?.metre).toEqual(metre(4, 4));
  });
});

describe('metres to choose from', () => {
  it('are those that are offered, fives and sevens in each grouping, each by a name of its own', () => {
    const names = METRES_TO_CHOOSE.map(metreInWords);
    expect(new Set(names).size).toBe(names.length);
    expect(names.filter(name => name.includes('as'))).toEqual([
      '5/8 as 3+2',
      '5/8 as 2+3',
      '7/8 as 2+2+3',
      '7/8 as 3+2+2',
      '7/8 as 2+3+2',
    ]);
    expect(names.filter(name => !name.includes('as'))).toEqual(
      OFFERED_METRES.filter(m => !/^[57][/]8/.test(m)),
    );
    for (const m of METRES_TO_CHOOSE.flatMap(groupingsOf))
      expect((m.groups ?? []).reduce((a, b) => a + b, 0)).toBe(m.groups === undefined ? 0 : m.upper);
  });
});
