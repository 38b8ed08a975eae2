import { expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { barsNeeded, engravePart } from '../../core/score/engrave.ts';

it('a bar struck twice at one place is one head, beside the other mallet of a chord', () => {
  const C = key('C');
  const notes = ([72, 72, 76] as const).map((pitch, i) => ({
    onset: ZERO,
    duration: fraction(1, i === 0 ? 8 : 4),
    pitch: spell(C, pitch),
    ref: String(i),
  }));
  const frame = { metre: metre(4, 4), key: C, upbeat: ZERO, bars: barsNeeded(metre(4, 4), notes) };
  const [first] = engravePart(frame, notes)[0]?.symbols ?? [];
  expect(first?.pitches.map(p => p.spelled.letter)).toEqual(['C', 'E']);
  expect(first?.duration).toEqual(fraction(1, 4));
});
