import { describe, expect, it } from 'vitest';
import { metre, showMetre } from '../../../core/foundation/metre.ts';
import {
  BARLINE_STEP,
  type Rhythm,
  type Spelling,
  spellingsOf,
  USUAL_METRES,
} from '../../../core/reading/freeBeat/spelling.ts';
import { readTake } from '../../../core/reading/read.ts';
import { played, places } from '../../takes/written.ts';

/** A rhythm in crotchets at a tempo, every strike equally loud unless said. */
const rhythm = (crotchets: readonly number[], tempo: number, more: Partial<Rhythm> = {}): Rhythm => ({
  ticks: Int32Array.from(crotchets, x => 48 * x),
  tick: 60 / tempo / 48,
  period: 0,
  loud: crotchets.map(() => 0),
  scales: [0.5, 1, 2],
  metres: USUAL_METRES,
  barlineStep: () => BARLINE_STEP,
  ...more,
});

const best = (r: Rhythm): Spelling => {
  const [likeliest] = spellingsOf(r);
  if (likeliest === undefined) throw new Error('no spelling');
  return likeliest;
};
const told = ({ scale, metre: m }: Spelling): string => `${String(scale)} ${showMetre(m)}`;

const PLAIN = [0, 1, 2, 3, 4, 5, 6, 8, 9, 10, 11, 12, 13, 14];
const again = (idea: readonly number[], length: number, times: number): number[] =>
  Array.from({ length: times }, (_, k) => idea.map(x => x + k * length)).flat();

// Which page a musician would write: common practice, no source.
describe('ways of writing a rhythm', () => {
  it.each([72, 96, 120])('crotchets at %d are crotchets in 4/4', tempo => {
    expect(told(best(rhythm(PLAIN, tempo)))).toBe('1 4/4');
  });

  it('values are doubled or halved where nobody would count so fast or so slowly', () => {
    expect(told(best(rhythm(PLAIN, 240)))).toBe('0.5 4/4');
    expect(told(best(rhythm(PLAIN, 48)))).toBe('2 4/4');
  });

  it('crotchet and quaver, over and over, are 6/8', () => {
    const jig = again([0, 1, 1.5, 2, 2.5], 3, 4);
    expect(told(best(rhythm(jig, 150, { period: 144 })))).toBe('1 6/8');
  });

  it('a waltz of crotchets is 3/4', () => {
    expect(told(best(rhythm(again([0, 1, 2], 3, 4), 110, { period: 144 })))).toBe('1 3/4');
  });

  it('a soft quaver before a loud figure on the beat is an upbeat', () => {
    const idea = again([-0.5, 0, 1, 2, 3, 3.5], 4, 4).filter((x, i, all) => all.indexOf(x) === i);
    const loud = idea.map(x => (x % 4 === 0 ? 1.6 : -0.4));
    const found = best(rhythm(idea, 100, { period: 192, loud }));
    expect(told(found)).toBe('1 4/4');
    expect(found.barline % 192).toBe(0);
  });

  it('semiquavers all the way are bars of two crotchets, not of four', () => {
    const rag = again([0, 0.25, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.25, 2.75, 3, 3.5], 4, 4);
    expect(told(best(rhythm(rag, 92)))).toBe('1 2/4');
    expect(told(best(rhythm(again([0, 1, 1.5, 2, 3], 4, 4), 76)))).toBe('1 4/4');
  });

  it('an idea of seven quavers that comes again is 7/8, its quavers counted', () => {
    const seven = again([0, 0.5, 1, 2, 2.5, 3], 3.5, 4);
    const found = best(rhythm(seven, 110, { period: 168 }));
    expect(told(found)).toBe('1 7/8');
    expect(found.barline % 168).toBe(0);
    const five = best(rhythm(again([0, 1, 1.5, 2], 2.5, 4), 130, { period: 120 }));
    expect(told(five)).toBe('1 5/8');
  });

  it('nothing is in seven or five quavers that does not come again after them', () => {
    const seven = again([0, 0.5, 1, 2, 2.5, 3], 3.5, 4);
    for (const period of [0, 192, 12])
      for (const s of spellingsOf(rhythm(seven, 110, { period })))
        expect(showMetre(s.metre)).not.toMatch(/^[57]\/8$/);
  });

  it('crotchets too quick to count are counted in minims, and no slower ones', () => {
    const quick = again([0, 1, 2, 2.5, 3, 4, 4.5, 5, 5.5, 6, 7, 7.25], 8, 2);
    const metreAt = (tempo: number): string => told(best(rhythm(quick, tempo, { scales: [1] })));
    expect(metreAt(240)).toBe('1 2/2');
    expect(metreAt(104)).toBe('1 4/4');
  });

  it('beats of unequal length are spelt each in its own way', () => {
    // Three quavers fill the long beat of 2+2+3; in thirds of it nothing else would.
    const all = spellingsOf(rhythm(again([0, 1, 2, 2.5, 3], 3.5, 3), 110, { period: 168, scales: [1] }));
    expect(all.some(s => showMetre(s.metre) === '7/8')).toBe(true);
  });

  it('keep to the barline and the metre they are told', () => {
    const all = spellingsOf(rhythm(PLAIN, 100, { metres: [metre(3, 4)], onBarline: 48 }));
    expect(all.length).toBeGreaterThan(0);
    for (const s of all) {
      expect(showMetre(s.metre)).toBe('3/4');
      expect((s.barline - 48 * s.scale) % 144).toBe(0);
    }
  });

  it('leave out beats that cannot be spelt and beats nobody counts', () => {
    expect(spellingsOf(rhythm([0, 1 / 3, 2 / 3, 1], 100)).every(s => s.metre.lower !== 8)).toBe(true);
    expect(spellingsOf(rhythm(PLAIN, 2))).toEqual([]);
  });
});

describe('a page in other values than its beat was found in', () => {
  it('counts its beats where it writes them', () => {
    const take = played({ at: again(PLAIN, 16, 2), tempo: 100, click: false, off: [9, -12, 5, -7, 11] });
    for (const page of readTake(take)) {
      const struck = page.notes.find(n => n.onset.n === 0);
      const first = page.beats[page.firstBeat];
      if (struck === undefined || first === undefined) continue;
      expect(Math.abs(first - (take.strikes[struck.strike]?.at ?? 0))).toBeLessThan(0.12);
    }
    expect(places(readTake(take)[0]).slice(0, 4)).toEqual([0, 1, 2, 3]);
  });
});
