import { expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { engravePart } from '../../core/score/engrave.ts';
import { inkOf, ROLL_STEM } from '../../renderer/page/stems.ts';

/** How far up each symbol of a bar of 2/4 reaches, its notes rolled or not. */
const tops = (eighths: readonly number[], roll: boolean): readonly number[] => {
  const notes = eighths.map(at => ({
    onset: fraction(at, 8),
    duration: fraction(1, 8),
    pitch: spell(key('C'), 64),
    ref: String(at),
    ...(roll ? { roll: true as const } : {}),
  }));
  const [bar] = engravePart({ metre: metre(2, 4), key: key('C'), upbeat: ZERO, bars: 1 }, notes);
  return bar === undefined ? [] : inkOf(bar, 'treble').map(span => span.top);
};

// A flag leaves no room on its stem for the strokes of a roll: it is lengthened (Gould, Behind Bars, 2011; from memory).
it('the stem of a rolled note is longer where it has a flag, and only there', () => {
  const [plain = 0] = tops([0], false);
  const [flagged = 0] = tops([0], true);
  expect(plain - flagged).toBe(ROLL_STEM);
  expect(tops([0, 1], true)).toEqual(tops([0, 1], false));
});
