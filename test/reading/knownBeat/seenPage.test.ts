import { describe, expect, it } from 'vitest';
import { metre } from '../../../core/foundation/metre.ts';
import { type Pin, withPins } from '../../../core/piece/rereading.ts';
import type { Hints, Reading } from '../../../core/reading/model/reading.ts';
import { readTake } from '../../../core/reading/read.ts';
import type { Take } from '../../../core/take/take.ts';
import { place, played } from '../../takes/written.ts';

const firstOf = (take: Take, hints: Hints = {}): Reading => {
  const [first] = readTake(take, hints);
  if (first === undefined) throw new Error('nothing was read');
  return first;
};

/** Crotchets from the first barline by strike, after strikes were put elsewhere on the page. */
const after = (take: Take, moves: readonly (readonly [strike: number, crotchets: number])[]): number[] => {
  const hints: Hints = take.click === undefined ? { metre: metre(4, 4), tempo: 88 } : {};
  const pins: Pin[] = moves.map(([strike, crotchets]) => ({ strike, onset: place(crotchets) }));
  const [page] = readTake(take, withPins({ take, hints, reading: firstOf(take, hints) }, pins));
  const stands = new Map(page?.notes.map(n => [n.strike, (4 * n.onset.n) / n.onset.d]));
  return take.strikes.map((_, i) => stands.get(i) ?? Number.NaN);
};

const AT = [0, 1, 1.5, 2, 3, 3.5, 4, 5, 6, 7];
const LINE = played({ at: AT, pitch: [60, 62, 64, 65, 67, 69, 71, 72, 74, 76], tempo: 88 });
const { click: _, ...UNCLICKED } = LINE;

describe('a page read again after a correction', () => {
  it('leaves everything else where it is', () => {
    expect(after(LINE, [[2, 1.75]])).toEqual([0, 1, 1.75, 2, 3, 3.5, 4, 5, 6, 7]);
    expect(after(UNCLICKED, [[2, 1.75]])).toEqual([0, 1, 1.75, 2, 3, 3.5, 4, 5, 6, 7]);
    expect(after(LINE, [])).toEqual(AT);
  });

  it('makes room in the beat of the pin', () => {
    expect(after(played({ at: [0, 1, 1.33, 1.66, 2, 3], tempo: 70 }), [[2, 1.5]])[2]).toBe(1.5);
    const triplet = after(played({ at: [0, 1, 1.4, 1.7, 2, 3], tempo: 80 }), [[2, 4 / 3]]);
    expect(triplet.map(x => x.toFixed(2))).toEqual(['0.00', '1.00', '1.33', '1.67', '2.00', '3.00']);
  });

  it('gathers a chord where two are put in one position, and parts it again', () => {
    expect(after(LINE, [[2, 1]])).toEqual([0, 1, 1, 2, 3, 3.5, 4, 5, 6, 7]);
    const chord = played({ at: [0, 1, 1, 2, 3], pitch: [60, 62, 65, 67, 69], tempo: 88 });
    expect(after(chord, [[2, 1.5]])).toEqual([0, 1, 1.5, 2, 3]);
  });

  it('lets notes change order', () => {
    expect(after(LINE, [[2, 0.5]])).toEqual([0, 1, 0.5, 2, 3, 3.5, 4, 5, 6, 7]);
    expect(after(LINE, [[1, 2.5]])).toEqual([0, 2.5, 1.5, 2, 3, 3.5, 4, 5, 6, 7]);
  });

  it('without a click takes a pin a beat off, in the later half, for a beat that was lost', () => {
    expect(after(UNCLICKED, [[7, 7]])).toEqual([0, 1, 1.5, 2, 3, 3.5, 4, 7, 8, 9]);
    expect(after(UNCLICKED, [[7, 5.75]])).toEqual([0, 1, 1.5, 2, 3, 3.5, 4, 5.75, 6, 7]);
    expect(after(UNCLICKED, [[0, -1]])).toEqual([-1, 1, 1.5, 2, 3, 3.5, 4, 5, 6, 7]);
    expect(after(LINE, [[9, 8]])).toEqual([0, 1, 1.5, 2, 3, 3.5, 4, 5, 6, 8]);
  });

  it('leaves the same figure elsewhere where its own timing does not agree', () => {
    const at = [0, 0.62, 1, 2, 3, 3.5, 4, 5, 6, 6.5, 7, 8];
    const take = played({ at, pitch: at.map((_, i) => 60 + ((i * i * 7 + i) % 17)), tempo: 84 });
    expect(after(take, [[1, 0.75]])).toEqual([0, 0.75, 1, 2, 3, 3.5, 4, 5, 6, 6.5, 7, 8]);
  });
});
