import { expect, test } from 'vitest';
import { add, type Fraction, fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { barsNeeded, engravePart } from '../../core/score/engrave.ts';
import { syllableOf } from '../../core/score/syllables.ts';

/** The rhythm names of notes that follow on one another, lengths in semiquavers (or so many to a semibreve). */
const said = (upper: number, lower: number, lengths: readonly number[], unit = 16): string => {
  const m = metre(upper, lower);
  let at: Fraction = ZERO;
  const notes = lengths.map((length, i): PlacedNote => {
    const note = { onset: at, duration: fraction(length, unit), pitch: spell(key('C'), 60), ref: String(i) };
    at = add(at, note.duration);
    return note;
  });
  const bars = engravePart({ metre: m, key: key('C'), upbeat: ZERO, bars: barsNeeded(m, notes) }, notes);
  return bars
    .flatMap(bar => bar.symbols.map(symbol => syllableOf(m, bar, symbol)))
    .join(' ')
    .trim();
};

// D. Wicks, "Rhythm Syllables" (edu-cyberpg.com), after Kodály's pupils; dotted values, triplets and dotted
// beats are common practice, no source.
test.each([
  ['crotchets and quavers', 4, 4, [4, 2, 2, 8], 16, 'ta ti ti ta-a'],
  ['semiquavers', 2, 4, [1, 1, 1, 1, 4], 16, 'ti ka ti ka ta'],
  ['quaver and two semiquavers', 2, 4, [2, 1, 1, 1, 1, 2], 16, 'ti ti ka ti ka ti'],
  ['dotted quaver, semiquaver', 2, 4, [3, 1, 4], 16, 'tim ka ta'],
  ['dotted crotchet, quaver', 4, 4, [6, 2, 8], 16, 'ta-i ti ta-a'],
  ['long notes', 4, 4, [12, 4, 16], 16, 'ta-a-a ta ta-a-a-a'],
  ['a triplet', 2, 4, [1, 1, 1, 3], 12, 'tri o la ta'],
  ['a triplet in the second beat', 2, 4, [3, 1, 1, 1], 12, 'ta tri o la'],
  ['a triplet of a crotchet and a quaver', 2, 4, [2, 1, 3], 12, 'tri la ta'],
  ['6/8', 6, 8, [6, 4, 2, 12], 16, 'tam ta ti tam-am'],
  ['quavers and semiquavers of 6/8', 6, 8, [2, 2, 2, 1, 1, 4], 16, 'ti ti ti ti ti ta'],
  ['a held tie', 4, 4, [12, 2, 4, 14], 16, 'ta-a-a ti ti -a ti -a -a'],
] as const)('%s', (_, upper, lower, lengths, unit, wanted) => {
  expect(said(upper, lower, lengths, unit)).toBe(wanted);
});

test('a rest is not spoken', () => {
  const m = metre(4, 4);
  const bars = engravePart({ metre: m, key: key('C'), upbeat: ZERO, bars: 1 }, [
    { onset: fraction(1, 4), duration: fraction(1, 4), pitch: spell(key('C'), 60), ref: '' },
  ]);
  expect(bars.flatMap(bar => bar.symbols.map(symbol => syllableOf(m, bar, symbol)))).toEqual(['', 'ta', '']);
});
