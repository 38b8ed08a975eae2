import fc from 'fast-check';
import { metre, type Metre } from '../../core/foundation/metre.ts';
import type { Hints } from '../../core/reading/model/reading.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';
import type { Take } from '../../core/take/take.ts';
import { readFileSync } from 'node:fs';
import { place, played } from '../takes/written.ts';

/** Places on quarters and thirds of the beat, in crotchets from the first barline, over so many bars of four. */
export const anyRhythm = (bars = 2): fc.Arbitrary<readonly number[]> =>
  fc
    .uniqueArray(fc.constantFrom(...slots(bars)), { minLength: 3, maxLength: 8 * bars })
    .map(all => [0, ...all].sort((a, b) => a - b));

const slots = (bars: number): readonly number[] =>
  Array.from({ length: 4 * bars }, (_, beat) => [0.25, 0.5, 0.75, 1 / 3, 2 / 3, 1].map(s => beat + s)).flat();

const anyMetre: fc.Arbitrary<Metre> = fc
  .constantFrom([4, 4], [3, 4], [2, 4], [6, 8], [5, 4], [7, 8], [2, 2])
  .map(([upper = 4, lower = 4]) => metre(upper, lower));

/** Takes of uneven players, with a click or without, some struck at two bars at once, some bounced. */
export const anyTake: fc.Arbitrary<Take> = fc
  .record({
    at: anyRhythm(),
    pitch: fc.array(fc.integer({ min: 48, max: 84 }), { minLength: 1, maxLength: 9 }),
    off: fc.array(fc.integer({ min: -45, max: 45 }), { minLength: 1, maxLength: 11 }),
    tempo: fc.integer({ min: 50, max: 170 }),
    swing: fc.constantFrom(0.5, 0.5, 0.6, 0.67, 0.75),
    times: fc.integer({ min: 1, max: 3 }),
    metre: anyMetre,
    click: fc.boolean(),
  })
  .map(p => played({ ...p, at: Array.from({ length: p.times }, (_, k) => p.at.map(x => x + 8 * k)).flat() }));

/** The invented takes of the demonstration, as a pupil finds them in the app. */
export const demoTakes: readonly Take[] = ['puddle-jump', 'tin-roof', 'ferry-bell', 'late-for-lunch'].map(
  name => {
    const read = readStandardMidiFile(readFileSync(`assets/demo/${name}.mid`), name);
    if (!read.ok) throw new Error(read.problem.what);
    return read.value;
  },
);

/** Whatever a teacher may have told the reader about a take with so many strikes: pins may cross, taps may be few. */
export const anyHints = (strikes: number): fc.Arbitrary<Hints> =>
  fc
    .record(
      {
        metre: anyMetre,
        tempo: fc.integer({ min: 30, max: 240 }),
        grid: fc.constantFrom('automatic', 'beat', 'half', 'quarter', 'eighth', 'triplet', 'sextuplet'),
        swingTolerance: fc.constantFrom('none', 'low', 'medium', 'high'),
        pins: fc.uniqueArray(
          fc.record({
            strike: fc.nat({ max: Math.max(0, strikes - 1) }),
            onset: fc.integer({ min: -16, max: 140 }).map(n => place(n / 4)),
          }),
          { minLength: 1, maxLength: 4, selector: p => p.strike },
        ),
        firstBeatStrike: fc.nat({ max: Math.max(0, strikes - 1) }),
        taps: fc.array(fc.double({ min: 0, max: 12, noNaN: true }), { maxLength: 9 }),
        letRing: fc.boolean(),
        free: fc.boolean(),
      },
      { requiredKeys: [] },
    )
    .map(h => h as Hints);

/** A take and something said about it. */
export const takeAndHints: fc.Arbitrary<{ readonly take: Take; readonly hints: Hints }> = fc
  .oneof(anyTake, fc.constantFrom(...demoTakes))
  .chain(take => anyHints(take.strikes.length).map(hints => ({ take, hints })));
