import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { less, remainder, toNumber } from '../../core/foundation/fraction.ts';
import { barLength, metre, type Metre, tactus } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import { played } from '../takes/written.ts';

// An upbeat is what comes before the first barline, and shorter than a bar (common practice, no source).
// Which note is on a first beat is the teacher's word: it stands on a barline, the first or a later one.

const metres: readonly Metre[] = [metre(4, 4), metre(3, 4), metre(2, 4), metre(6, 8), metre(5, 8)];
const takes = fc.record({
  m: fc.constantFrom(...metres),
  gaps: fc.array(fc.constantFrom(0.5, 0.5, 1, 1, 1.5, 2, 5, 13), { minLength: 2, maxLength: 9 }),
  click: fc.boolean(),
  off: fc.array(fc.integer({ min: -25, max: 25 }), { minLength: 1, maxLength: 9 }),
  which: fc.nat({ max: 9 }),
});

describe('the first beat, said by the teacher', () => {
  it('law: it stands on a barline, and no upbeat is a bar long', () => {
    fc.assert(
      fc.property(takes, ({ m, gaps, click, off, which }) => {
        let now = 0;
        const at = [0, ...gaps.map(gap => (now += gap))];
        const strike = which % at.length;
        const take = played({ at, off, metre: m, click });
        for (const reading of readTake(take, { firstBeatStrike: strike }).slice(0, 2)) {
          const bar = barLength(reading.metre);
          expect(less(reading.upbeat, bar), `upbeat ${String(toNumber(reading.upbeat))}`).toBe(true);
          const note = reading.notes.find(one => one.strike === strike);
          // To a click the nearest beat becomes the first: the clicks stay where they were heard.
          const after = toNumber(remainder(note?.onset ?? bar, bar));
          const away = Math.min(after, toNumber(bar) - after);
          expect(away).toBeLessThanOrEqual((click ? 1 : 0.5) * toNumber(tactus(reading.metre)));
        }
      }),
      { numRuns: 60, seed: 4 },
    );
  }, 120_000);

  it('ten seconds of silence before it are bars, not an upbeat', () => {
    // Two strikes, ten seconds, six strikes; the first of these is said to be on the first beat.
    const at = [0, 1, 17, 18, 19, 20, 20.5, 21];
    const [best] = readTake(played({ at, tempo: 96 }), { firstBeatStrike: 2 });
    expect(toNumber(best?.upbeat ?? { n: 9, d: 1 })).toBe(0.25);
    expect(best?.notes.map(n => toNumber(n.onset) * 4)).toEqual(at.map(x => x - 1));
  });
});
