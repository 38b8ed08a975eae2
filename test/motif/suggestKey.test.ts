import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  fullScale,
  type Key,
  key,
  keyName,
  scaleMidi,
  scaleSize,
  signature,
} from '../../core/foundation/key.ts';
import { letterName, modulo } from '../../core/foundation/pitch.ts';
import { keyToWrite, type KeySuggestion, PERHAPS, suggestKeys } from '../../core/motif/suggestKey.ts';
import { LETTERS_OF, notesOf, type Tune, type TuneNote as Note, TUNES } from './tunes.ts';

const family = (mode: string): string => (/minor|dorian|phrygian/.test(mode) ? 'minor' : 'major');
const isRight = ({ key: k }: KeySuggestion, tune: Tune): boolean =>
  letterName(k.tonic).replace('♯', '#').replace('♭', 'b') === tune.key[0] &&
  family(k.mode) === family(tune.key[1]);
const best = (notes: readonly Note[]): KeySuggestion => suggestKeys(notes)[0] ?? { key: key('C'), sure: 0 };

const holds = (k: Key, notes: readonly { readonly pitch: number }[]): boolean => {
  const scale = new Set(
    Array.from({ length: scaleSize(fullScale(k)) }, (_, degree) =>
      modulo(scaleMidi(fullScale(k), { degree, alter: 0 }), 12),
    ),
  );
  return notes.every(note => scale.has(modulo(note.pitch, 12)));
};

describe('a suggested key', () => {
  test('finds tonic and family of at least 30 of 36 well-known tunes', () => {
    expect(TUNES).toHaveLength(36);
    const wrong = TUNES.filter(tune => !isRight(best(notesOf(tune)), tune)).map(
      tune => `${tune.name}: ${keyName(best(notesOf(tune)).key)}`,
    );
    expect(wrong.length, wrong.join('; ')).toBeLessThanOrEqual(6);
  });

  test('has the signature the songbooks print for at least 29 of 36, and none of a sixth that nobody played', () => {
    const signOf = ({ key: [letter, mode] }: Tune): number =>
      signature(
        key(
          LETTERS_OF[letter.charAt(0) as keyof typeof LETTERS_OF],
          mode,
          letter.length - 1 ? (letter.endsWith('#') ? 1 : -1) : 0,
        ),
      );
    const right = TUNES.filter(tune => (signature(best(notesOf(tune)).key) - signOf(tune)) % 12 === 0);
    expect(right.length).toBeGreaterThanOrEqual(29);
    const without = (sixth: number): readonly Note[] =>
      [69, 72, 76, 74, 72, 71, 69 + sixth, 76, 69].map(pitch => ({ pitch, weight: 1 }));
    expect(keyName(best(without(9)).key)).toBe('A dorian');
    expect(best(without(9)).sure).toBeGreaterThan(0.95);
    expect(keyName(best(without(8)).key)).toBe('A minor');
    const [open, next] = suggestKeys(without(7));
    expect([open, next].map(s => (s === undefined ? '' : keyName(s.key)))).toEqual(['A minor', 'A dorian']);
    // Not told by anything, it is never said to be sure.
    expect(open?.sure).toBeLessThan(0.9);
  });

  test('is "almost surely" right (over 0.9) in every tune where it is said to be, and it is said of some', () => {
    const sure = TUNES.map(tune => ({ tune, found: best(notesOf(tune)) })).filter(
      ({ found }) => found.sure > 0.9,
    );
    expect(sure.length).toBeGreaterThan(8);
    expect(sure.filter(({ tune, found }) => !isRight(found, tune)).map(({ tune }) => tune.name)).toEqual([]);
  });

  test('law: a tune moved by semitones has its key moved as far, as surely, and always one a page can hold', () => {
    fc.assert(
      fc.property(fc.constantFrom(...TUNES), fc.integer({ min: -11, max: 11 }), (tune, by) => {
        const [here, there] = [
          best(notesOf(tune)),
          best(notesOf(tune).map(n => ({ ...n, pitch: n.pitch + by }))),
        ];
        const tonic = ({ key: k }: KeySuggestion): number => scaleMidi(k, { degree: 0, alter: 0 });
        expect((((tonic(there) - tonic(here) - by) % 12) + 12) % 12).toBe(0);
        expect(there.key.mode).toBe(here.key.mode);
        expect(there.sure).toBeCloseTo(here.sure, 6);
        expect(Math.abs(signature(there.key))).toBeLessThanOrEqual(6);
      }),
    );
  });

  test('law: chances lie between 0 and 1, in order, and sum to no more than 1', () => {
    const notes = fc.array(
      fc.record({
        pitch: fc.integer({ min: 40, max: 90 }),
        weight: fc.double({ min: 0.1, max: 4, noNaN: true }),
      }),
      { minLength: 1, maxLength: 20 },
    );
    fc.assert(
      fc.property(notes, all => {
        const sures = suggestKeys(all).map(s => s.sure);
        expect(sures).toHaveLength(5);
        expect([...sures].sort((a, b) => b - a)).toEqual(sures);
        expect(sures.every(s => s >= 0 && s <= 1)).toBe(true);
        expect(sures.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(1 + 1e-9);
        const written = keyToWrite(all);
        // Modes that share a signature speak for it together.
        const alike = suggestKeys(all)
          .filter(s => (signature(s.key) - signature(written.key)) % 12 === 0)
          .reduce((so, s) => so + s.sure, 0);
        const isGuess = (sures[0] ?? 0) < PERHAPS;
        if (isGuess)
          expect(signature(written.key) === 0 || alike > PERHAPS || holds(written.key, all)).toBe(true);
        else expect(written).toEqual(suggestKeys(all)[0]);
      }),
    );
  });

  test('law: even a guess holds every note of a scale, whatever its mode and tonic', () => {
    // Steps of the church modes and minor (any theory handbook): up, the fifth, and home.
    const modes: readonly (readonly number[])[] = [
      [0, 2, 4, 6, 7, 9, 11],
      [0, 1, 3, 5, 7, 8, 10],
      [0, 2, 4, 5, 7, 9, 10],
      [0, 2, 3, 5, 7, 9, 10],
      [0, 2, 3, 5, 7, 8, 10],
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...modes),
        fc.integer({ min: 54, max: 65 }),
        fc.nat(6),
        (mode, tonic, end) => {
          const notes = [...mode, 7, mode[end] ?? 0].map(above => ({ pitch: tonic + above, weight: 1 }));
          const { key: k, sure } = keyToWrite(notes);
          if (sure < PERHAPS) expect(holds(k, notes)).toBe(true);
        },
      ),
    );
    // G flat lydian and C sharp phrygian: not C major, in which nothing could be grown.
    const gFlat = [66, 68, 70, 72, 73, 75, 77, 78, 73, 66].map(pitch => ({ pitch, weight: 1 }));
    expect(Math.abs(signature(keyToWrite(gFlat).key))).toBeGreaterThan(4);
    const phrygian = [61, 62, 64, 66, 68, 69, 71, 73, 68, 61].map(pitch => ({ pitch, weight: 1 }));
    expect(signature(keyToWrite(phrygian).key)).toBe(3);
  });

  // A mode is told by its final and its own note (any handbook of theory): the raised fourth of lydian, the second a semitone
  // over the tonic in phrygian. Invented tunes.
  test.each([
    ['F lydian', 'F4 A4 C5 B4 A4 G4 F4:2'],
    ['F lydian', 'F4 G4 A4 B4 A4 G4 F4:2'],
    ['F lydian', 'F4 A4 B4 C5:2 B4 A4 G4 F4:2'],
    ['F lydian', 'C5 B4 A4 G4 A4 B4 C5 A4 F4:3'],
    ['F lydian', 'F4:2 C5 B4 C5 D5 C5 B4 A4 G4 F4:3'],
    ['F lydian', 'F4 C5 B4 A4 E5 D5 C5 B4 A4 G4 F4'],
    ['E phrygian', 'E4 D4 E4 G4 F4 G4 F4 E4:2'],
    ['E phrygian', 'E4 G4 F4 E4 A4 G4 F4 E4:2'],
    ['E phrygian', 'E4 F4 E4 B4 A4 G4 F4 E4:2'],
    ['E phrygian', 'E4 B4 C5 B4 A4 G4 F4 G4 F4 E4:3'],
    // A turn round the fifth makes no lydian, nor does a second that nobody played make phrygian.
    ['C major', 'C4 E4 G4 F#4 G4 E4 C4:2'],
    ['C major', 'G4 F#4 G4 E4 C4 D4 E4 G4 C4:2'],
    ['C major', 'C4 D4 E4 F4 G4 A4 B4 C5'],
    ['C major', 'E4 D4 C4 D4 E4 F4 G4 E4:2'],
    // The dominant's own dominant, struck one note at a time; a tune on the third of its key.
    ['C major', 'C4 E4 G4 A4 F#4 G4 E4 C4:2'],
    ['C major', 'C4 E4 G4 E4 D4 F#4 A4 G4 E4 D4 C4:2'],
    ['C major', 'C4 D4 E4 F#4 G4 D4 B3 C4:2'],
    ['C major', 'E4 E4 F4 G4 G4 F4 E4 D4 E4'],
    ['C major', 'E4 G4 C5 B4 A4 G4 F4 E4'],
    ['C major', 'E4 F4 G4 A4 G4 F4 E4 D4 E4'],
    // Harmonic and melodic minor have the signature of minor.
    ['A minor', 'A4 C5 E5 F5 E5 G#4 A4:2'],
    ['A minor', 'A4 E5 F#5 G#5 A5 E5 C5 A4'],
    ['A minor', 'A4 B4 C5 D5 E5 F#5 G#5 A5 E5 C5 A4:2'],
    ['A minor', 'A4 B4 C5 D5 E5 F5 G#5 A5:2'],
    ['A minor', 'A4 B4 C5 D5 E5 F#5 G#5 A5'],
    ['F♯ minor', 'F#4 G#4 A4 B4 C#5 D#5 F5 F#5'],
    ['A minor', 'A4 B4 C5 D5 E5 F#5 G#5 A5 G5 F5 E5 D5 C5 B4 A4:2'],
    ['A dorian', 'A4 C5 E5 F#5 E5 G4 A4:2'],
  ])('%s: %s', (name, notes) => {
    expect(keyName(keyToWrite(notesOf({ name, key: ['C', 'major'], notes })).key)).toBe(name);
    // In every other key, too.
    const lower = notesOf({ name, key: ['C', 'major'], notes }).map(n => ({ ...n, pitch: n.pitch - 5 }));
    expect(keyToWrite(lower).key.mode).toBe(name.split(' ')[1]);
  });

  test('the first five notes of a scale lie over their tonic, wherever they begin, turn and end', () => {
    const tune = (steps: readonly number[], from: number) =>
      keyToWrite(steps.map(above => ({ pitch: from + above, weight: 1 })));
    const LOOP = [0, 2, 4, 5, 7, 5, 4, 2];
    expect(keyName(tune(LOOP, 60).key)).toBe('C major');
    expect(keyName(tune([...LOOP, ...LOOP], 60).key)).toBe('C major');
    expect(keyName(tune([0, 2, 4, 5, 7, 5, 4], 60).key)).toBe('C major');
    expect(keyName(tune(LOOP, 66).key)).toBe('F♯ major');
    expect(keyName(tune([0, 2, 3, 5, 7, 5, 3, 2, 0, 2], 60).key)).toBe('C minor');
    // More notes than five are no such tune: G A B♭ C F D E C F goes home to F, probably.
    const more = tune([7, 9, 10, 12, 5, 2, 4, 0, 5], 60);
    expect([keyName(more.key), more.sure > 0.6]).toEqual(['F major', true]);
  });

  test('five notes that need no more are pentatonic; a class key and bars lifted off count', () => {
    const steps = [67, 69, 71, 74, 76, 74, 71, 69, 67].map(pitch => ({ pitch, weight: 1 }));
    expect(keyName(best(steps).key)).toBe('G pentatonic');
    const open = [62, 64, 69].map(pitch => ({ pitch, weight: 1 }));
    const inD = suggestKeys(open, { classKey: key('D') })[0];
    expect(inD === undefined ? '' : keyName(inD.key)).toBe('D major');
    const natural = suggestKeys(open, { setOut: [60, 62, 64, 65, 67, 69, 71] });
    expect(signature(natural[0]?.key ?? key('D'))).toBe(0);
    expect(signature(best(open).key)).not.toBe(0);
    expect(suggestKeys([])).toEqual([{ key: key('C'), sure: 0 }]);
  });

  // Which bars are lifted off for a pentatonic scale: F and B for C, F and C for G, E and B for F, the second
  // bars of one row of naturals (classroom practice: common practice, no source).
  test.each([
    ['C', 'F', [60, 62, 67, 69], [60, 62, 64, 67, 69], [60, 62, 65, 67, 69]],
    ['C', 'G', [64, 67, 62, 69], [60, 62, 64, 67, 69], [62, 64, 67, 69, 71]],
  ])('five bars are the pentatonic scale they make: %s or %s', (one, other, line, ofOne, ofOther) => {
    // Notes that belong to both.
    const notes = [...line, ...line].map(pitch => ({ pitch, weight: 1 }));
    const share = (name: string, setOut: readonly number[]): number =>
      suggestKeys(notes, { setOut })
        .filter(s => letterName(s.key.tonic) === name && family(s.key.mode) === 'major')
        .reduce((so, s) => so + s.sure, 0);
    expect(share(one, ofOne)).toBeGreaterThan(share(one, ofOther));
    expect(share(other, ofOther)).toBeGreaterThan(share(other, ofOne));
  });

  test('a class key is written the way the class writes it, where the notes fit it', () => {
    const five = [66, 68, 70, 73, 75, 66].map(pitch => ({ pitch, weight: 1 }));
    const keyOf = (notes: readonly Note[], classKey: Key): string =>
      keyName(keyToWrite(notes, { classKey }).key);
    expect(keyOf(five, key('G', 'major', -1))).toBe('G♭ major');
    expect(keyOf(five, key('F', 'major pentatonic', 1))).toBe('F♯ pentatonic');
    expect(keyOf(five, key('D', 'harmonic minor'))).not.toContain('D ');
    const minor = [69, 71, 72, 74, 76, 80, 69].map(pitch => ({ pitch, weight: 1 }));
    expect(keyOf(minor, key('A', 'harmonic minor'))).toBe('A harmonic minor');
  });
});
