import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  inScale,
  type Key,
  key,
  keyName,
  type Mode,
  MODE_NAMES,
  plainest,
  signature,
  spell,
  toScale,
  writable,
  writableTonics,
} from '../../core/foundation/key.ts';
import { letterName, LETTERS, midiOf } from '../../core/foundation/pitch.ts';

// The circle of fifths as every theory primer prints it (common practice, no source): signs of the key
// signature by tonic, sharps above zero.
const CIRCLE: Readonly<Record<'major' | 'minor', Readonly<Record<string, number>>>> = {
  major: {
    'C♭': -7,
    'G♭': -6,
    'D♭': -5,
    'A♭': -4,
    'E♭': -3,
    'B♭': -2,
    F: -1,
    C: 0,
    G: 1,
    D: 2,
    A: 3,
    E: 4,
    B: 5,
    'F♯': 6,
    'C♯': 7,
  },
  minor: {
    'A♭': -7,
    'E♭': -6,
    'B♭': -5,
    F: -4,
    C: -3,
    G: -2,
    D: -1,
    A: 0,
    E: 1,
    B: 2,
    'F♯': 3,
    'C♯': 4,
    'G♯': 5,
    'D♯': 6,
    'A♯': 7,
  },
};

const anyKey: fc.Arbitrary<Key> = fc
  .tuple(fc.constantFrom(...LETTERS), fc.constantFrom(...MODE_NAMES), fc.constantFrom(-1, 0, 1))
  .map(([letter, mode, alter]) => key(letter, mode, alter));

describe('keys a page can hold', () => {
  test.each(['major', 'minor'] as const)('%s: the fifteen of the circle of fifths, no other', mode => {
    const found = Object.fromEntries(
      writableTonics(mode).map(t => [letterName(t), signature({ tonic: t, mode })]),
    );
    expect(found).toEqual(CIRCLE[mode]);
  });

  test.each([
    ['dorian', 'major', -2],
    ['phrygian', 'major', -4],
    ['lydian', 'major', 1],
    ['mixolydian', 'major', -1],
    ['harmonic minor', 'minor', 0],
    ['melodic minor', 'minor', 0],
    ['major pentatonic', 'major', 0],
    ['minor pentatonic', 'minor', 0],
  ] as const)('%s has the signature of the %s on its tonic, and %i sharps', (mode: Mode, like, more) => {
    for (const tonic of writableTonics(like)) {
      expect(signature({ tonic, mode })).toBe((CIRCLE[like][letterName(tonic)] ?? NaN) + more);
    }
  });

  test('law: the plainest spelling sounds the same and has no more signs; what is writable stays', () => {
    fc.assert(
      fc.property(anyKey, fc.integer({ min: 40, max: 90 }), (k, pitch) => {
        const plain = plainest(k);
        expect(Math.abs(signature(plain))).toBeLessThanOrEqual(Math.abs(signature(k)));
        expect(Math.abs(signature(plain))).toBeLessThanOrEqual(6);
        expect(inScale(plain, pitch)).toBe(inScale(k, pitch));
        expect(toScale(plain, pitch).alter === 0).toBe(toScale(k, pitch).alter === 0);
        expect(Math.abs(signature(writable(k)))).toBeLessThanOrEqual(7);
        if (Math.abs(signature(k)) <= 7) expect(writable(k)).toEqual(k);
        expect(midiOf(spell(plain, pitch))).toBe(pitch);
      }),
    );
  });

  test('C sharp minor is not D flat minor', () => {
    expect(keyName(plainest(key('D', 'minor', -1)))).toBe('C♯ minor');
    expect(keyName(plainest(key('G', 'minor', -1)))).toBe('F♯ minor');
    expect(keyName(plainest(key('G', 'dorian', -1)))).toBe('F♯ dorian');
  });
});
