import { expect, it } from 'vitest';
import { add, equal, fraction, times, ZERO } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { valueLength } from '../../core/foundation/noteValue.ts';
import { splitSpan } from '../../core/score/split.ts';

// A long silence before the first beat is one long upbeat: its time must not double with every beat.
it.each([
  ['3/4', metre(3, 4), fraction(1, 4)],
  ['6/8', metre(6, 8), fraction(3, 8)],
  ['5/8', metre(5, 8), fraction(1, 8)],
] as const)('a rest and a note of 16 beats in %s are split, and whole', (_name, m, beat) => {
  const end = times(beat, 16);
  for (const kind of ['rest', 'note'] as const) {
    const drawn = splitSpan(m, fraction(1, 16), end, kind);
    const whole = drawn.reduce((so, d) => add(so, valueLength(d.value)), ZERO);
    expect(equal(add(whole, fraction(1, 16)), end)).toBe(true);
    expect(drawn.length).toBeLessThan(3 * 16);
  }
});
