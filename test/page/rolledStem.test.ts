import { expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { engravePart } from '../../core/score/engrave.ts';
import { inkOf, ROLL_STEM } from '../../renderer/page/stems.ts';

/** How far up each symbol of a bar of 2/4 reaches, its notes so many quavers long, rolled or not. */
const tops = (eighths: readonly number[], roll: boolean, long = 1): readonly number[] => {
  const notes = eighths.map(at => ({
    onset: fraction(at, 8),
    duration: fraction(long, 8),
    pitch: spell(key('C'), 64),
    ref: String(at),
    ...(roll ? { roll: true as const } : {}),
  }));
  const [bar] = engravePart({ metre: metre(2, 4), key: key('C'), upbeat: ZERO, bars: 1 }, notes);
  return bar === undefined ? [] : inkOf(bar, 'treble').map(span => span.top);
};

// The strokes of a roll stand clear of the head and of a flag: the stem is lengthened (Gould, Behind Bars, 2011; from
// memory). Under a beam it follows the beam.
it('the stem of a rolled note is longer, most where it has a flag; not under a beam', () => {
  for (const [long, longer] of [
    [1, ROLL_STEM.flagged],
    [2, ROLL_STEM.plain],
    [4, ROLL_STEM.plain],
  ] as const) {
    const [plain = 0] = tops([0], false, long);
    const [rolled = 0] = tops([0], true, long);
    expect(plain - rolled, String(long)).toBe(longer);
  }
  expect(tops([0, 1], true)).toEqual(tops([0, 1], false));
});
