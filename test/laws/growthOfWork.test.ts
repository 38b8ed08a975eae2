import { describe, expect, it } from 'vitest';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { engravePart } from '../../core/score/engrave.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import type { Score } from '../../core/score/score.ts';
import { growthOf } from '../tools/workOf.ts';

const C = key('C');

/** Bars of four crotchets, a tempo in each bar where wanted, every bar named. */
const piece = (bars: number, more: { pitch?: (i: number) => number; tempi?: boolean } = {}): Score => {
  const { pitch = () => 60 } = more;
  const notes = Array.from({ length: bars * 4 }, (_, i): PlacedNote => ({
    onset: fraction(i, 4),
    duration: fraction(1, 4),
    pitch: spell(C, pitch(i)),
    ref: String(i),
  }));
  const frame = { metre: metre(4, 4), key: C, upbeat: ZERO, bars };
  return {
    title: '',
    codeName: '',
    metre: metre(4, 4),
    key: C,
    tempo: 90,
    ...(more.tempi === true
      ? { tempi: Array.from({ length: bars - 1 }, (_, i) => ({ at: fraction(i + 1), tempo: 60 + (i % 90) })) }
      : {}),
    upbeat: ZERO,
    barCount: bars,
    letters: [],
    brackets: Array.from({ length: bars }, (_, i) => ({
      id: String(i),
      part: 'p',
      from: fraction(i),
      to: fraction(i + 1),
      text: '',
    })),
    parts: [
      {
        id: 'p',
        name: '',
        short: '',
        instrument: 'marimba',
        clef: 'treble',
        bars: engravePart(frame, notes),
      },
    ],
  };
};

/** How many times as much work four times as many bars are: 4 where it grows with them, 16 with their square. */
const growth = (call: (score: Score) => unknown, of: (bars: number) => Score, bars: number): number => {
  const [few, many] = [of(bars), of(4 * bars)];
  call(of(8));
  return growthOf(
    () => call(many),
    () => call(few),
  );
};

describe('the work grows with the piece, not with its square', () => {
  it('counts: a walk within a walk is found out', () => {
    const numbers = (n: number): number[] => Array.from({ length: n }, (_, i) => i);
    const squared = (n: number): unknown => {
      const all = numbers(n);
      return all.map(i => all.includes(i + n));
    };
    const straight = (n: number): unknown => numbers(n).map(i => i + n);
    expect(
      growthOf(
        () => squared(400),
        () => squared(100),
      ),
    ).toBeGreaterThan(12);
    expect(
      growthOf(
        () => straight(400),
        () => straight(100),
      ),
    ).toBeLessThan(5);
  });

  it('of a MIDI file', () => {
    expect(growth(standardMidi, bars => piece(bars), 60)).toBeLessThan(5);
  });

  it('of a MIDI file with a tempo in every bar', () => {
    expect(growth(standardMidi, bars => piece(bars, { tempi: true }), 200)).toBeLessThan(5);
  });

  it.each([
    ['all bars alike', {}],
    ['all alike, and a tempo in each, so that none may be folded', { tempi: true }],
    ['alike but for the last note', { pitch: (i: number) => (i === 2047 ? 67 : 60) }],
    ['in threes', { pitch: (i: number) => 60 + (Math.floor(i / 4) % 3) }],
  ])('of repeat bars: %s', (_name, more) => {
    // Beyond the longest repeat that is looked for.
    expect(growth(withRepeatBars, bars => piece(bars, more), 256)).toBeLessThan(6);
  });
});
