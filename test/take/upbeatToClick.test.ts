import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metre, type Metre } from '../../core/foundation/metre.ts';
import { beatsInBar } from '../../core/take/clickBeats.ts';
import type { Take } from '../../core/take/take.ts';
import { strikeAfterUpbeat } from '../../core/take/upbeatToClick.ts';

/** A take struck at beats of a click, so many seconds each. */
const takeAt = (m: Metre, at: readonly number[], beat = 0.5, latency = 0): Take => ({
  id: 't',
  capturedAt: '',
  source: 'midi',
  from: 'pad',
  latency,
  lengthsMean: false,
  click: { metre: m, beats: Array.from({ length: beatsInBar(m) * 4 + 1 }, (_, i) => i * beat) },
  // No bar twice running, or near ones would be bounces.
  strikes: at.map((x, i) => ({ at: x * beat + latency / 1000, pitch: 60 + (i % 2), velocity: 90 })),
});

describe('an upbeat to a click', () => {
  // How these songs begin, as any songbook prints them (public domain; written down from memory).
  it.each([
    ['Auld Lang Syne: a crotchet', metre(4, 4), [3, 4, 5.5, 6, 7, 8], 1],
    ['Amazing Grace: a crotchet in 3/4', metre(3, 4), [2, 3, 5, 6, 8], 1],
    ['The First Nowell: two quavers in 3/4', metre(3, 4), [2, 2.5, 3, 4.5, 5], 2],
    ['Greensleeves: a quaver in 6/8', metre(6, 8), [5 / 3, 2, 8 / 3, 3], 1],
    ['a gavotte: half a bar', metre(4, 4), [2, 3, 4, 5, 6], 2],
    ['a crotchet in 2/4', metre(2, 4), [1, 2, 2.5, 3], 1],
    ['a semiquaver', metre(4, 4), [3.75, 4, 5, 6], 1],
  ])('%s', (_, m, at, first) => {
    expect(strikeAfterUpbeat(takeAt(m, at))).toBe(first);
  });

  it.each([
    ['three of four beats are a bar that begins with a rest', metre(4, 4), [1, 2, 3, 4, 5]],
    ['two of three beats too', metre(3, 4), [1, 2, 3, 4, 5]],
    ['a first beat that is struck early', metre(4, 4), [3.9, 5, 6, 7, 8]],
    ['beats three and four struck in every bar lead nowhere', metre(4, 4), [2, 3, 6, 7, 10, 11]],
    ['nor does a barline that is struck before', metre(4, 4), [3.5, 5, 6, 7]],
    ['nor does a semiquaver after a barline, or before it', metre(5, 4), [4.25, 5.25, 7.25]],
    ['a semiquaver before', metre(4, 4), [3, 3.75, 5]],
    ['on the first beat', metre(4, 4), [0, 1, 2, 3, 4]],
    ['before the first barline there is an upbeat already', metre(4, 4), [-1, 0, 1, 2]],
    ['one strike', metre(4, 4), [3]],
    ['none', metre(4, 4), []],
  ])('is none: %s', (_, m, at) => {
    expect(strikeAfterUpbeat(takeAt(m, at))).toBeUndefined();
  });

  it('is none without a click', () => {
    const { click: _, ...take } = takeAt(metre(4, 4), [3, 4, 5]);
    expect(strikeAfterUpbeat(take)).toBeUndefined();
  });

  it('is found at any tempo and lateness of a device, wherever hands are a little off', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(metre(2, 4), metre(3, 4), metre(4, 4), metre(5, 4), metre(6, 8), metre(12, 8)),
        fc.integer({ min: 1, max: 12 }),
        fc.array(fc.double({ min: -0.1, max: 0.1, noNaN: true }), { minLength: 14, maxLength: 14 }),
        fc.double({ min: 0.3, max: 1.2, noNaN: true }),
        fc.integer({ min: 0, max: 120 }),
        (m, quarters, off, beat, latency) => {
          // Every quarter of a beat from the upbeat to the barline, then the beats of a bar.
          const bar = beatsInBar(m);
          fc.pre(quarters >= 2 && quarters <= bar * 4);
          const meant = [
            ...Array.from({ length: quarters }, (_, i) => bar - (quarters - i) / 4),
            ...Array.from({ length: bar }, (_, i) => bar + i),
          ];
          const at = meant.map((x, i) => x + (off[i] ?? 0)).sort((a, b) => a - b);
          const [first = 0] = at;
          // Near the middle of the bar hands decide; and a bar that is full is no upbeat.
          fc.pre(first >= 0 && Math.abs(bar - first - (bar / 2 + 0.125)) > 0.11);
          const found = strikeAfterUpbeat(takeAt(m, at, beat, latency));
          expect(found).toBe(quarters / 4 <= bar / 2 ? quarters : undefined);
        },
      ),
    );
  });
});
