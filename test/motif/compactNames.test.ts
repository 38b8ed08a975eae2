import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isOwn } from '../../core/foundation/compactNames.ts';
import { type Key, key, keyName, signature } from '../../core/foundation/key.ts';
import { fifthsOf, letterName, midiOf, modulo, type Spelled } from '../../core/foundation/pitch.ts';
import { spellLine } from '../../core/foundation/spellLine.ts';
import { keyToWrite, PERHAPS, suggestKeys } from '../../core/motif/suggestKey.ts';
import { notesOf, type TuneNote, TUNES } from './tunes.ts';

// Names of one line lie close together on the line of fifths (Temperley 2001, The Cognition of Basic Musical
// Structures, ch. 5; Meredith 2006, ps13).

/** A♭ B♭ C D♭ C B♭ G♭ A♭: D♭ major without its sixth, or A♭ mixolydian. */
const FIVE_FLATS = [68, 70, 72, 73, 72, 70, 66, 68];
const LENGTHS: readonly (readonly number[])[] = [
  [1, 1, 1, 1, 1, 1, 1, 1],
  [1, 1, 1, 1, 1, 1, 1, 4],
  [1, 1, 2, 0.5, 0.5, 1, 1, 1],
  [1, 1, 2, 1, 1, 1, 0.5, 0.5],
  [1.5, 0.5, 1, 1, 1.5, 0.5, 1, 1],
];
const weighed = (lengths: readonly number[], by: number): readonly TuneNote[] =>
  FIVE_FLATS.map((pitch, i) => ({ pitch: pitch + by, weight: lengths[i] ?? 1 }));
const lineOf = (k: Key, notes: readonly TuneNote[]): readonly Spelled[] =>
  spellLine(
    k,
    notes.map(n => [n.pitch]),
  ).flat();
const width = (line: readonly Spelled[]): number => {
  const places = line.map(fifthsOf);
  return Math.max(...places) - Math.min(...places);
};
const letters = (line: readonly Spelled[]): string => line.map(letterName).join(' ');
/** Every tune of the songbook and the one in five flats, with several rhythms. */
const lines = [...TUNES.map(tune => notesOf(tune)), ...LENGTHS.map(lengths => weighed(lengths, 0))];
const moved = (notes: readonly TuneNote[], by: number): readonly TuneNote[] =>
  notes.map(n => ({ ...n, pitch: n.pitch + by }));

describe('a tune in five flats', () => {
  test.each(LENGTHS)('has G♭ beside D♭ whatever its rhythm: %d %d %d %d %d %d %d %d', (...lengths) => {
    const notes = weighed(lengths, 0);
    expect(letters(lineOf(keyToWrite(notes).key, notes))).toBe('A♭ B♭ C D♭ C B♭ G♭ A♭');
  });

  test('is written with five flats where two keys share them', () => {
    const notes = weighed([1, 1, 2, 0.5, 0.5, 1, 1, 1], 0);
    const [best] = suggestKeys(notes);
    expect(best?.sure).toBeLessThan(PERHAPS);
    expect(keyName(keyToWrite(notes).key)).toBe('D♭ major');
    expect(letters(lineOf(key('C'), notes))).toBe('A♭ B♭ C D♭ C B♭ G♭ A♭');
  });
});

describe('names of a line', () => {
  test('every tune in all twelve transpositions has its key moved with it, and names as close as they were', () => {
    let guesses = 0;
    for (const notes of lines) {
      const here = keyToWrite(notes);
      const isGuess = suggestKeys(notes)[0]?.sure !== here.sure && here.sure < 0.3;
      for (let by = 1; by < 12; by++) {
        const there = keyToWrite(moved(notes, by));
        const line = lineOf(there.key, moved(notes, by));
        expect(line.map(midiOf)).toEqual(moved(notes, by).map(n => n.pitch));
        expect(width(line), letters(line)).toBeLessThanOrEqual(10);
        if (isGuess || signature(there.key) === 0) {
          guesses += 1;
          continue;
        }
        expect(modulo(fifthsOf(there.key.tonic) - fifthsOf(here.key.tonic) - 7 * by, 12)).toBe(0);
        expect(there.key.mode).toBe(here.key.mode);
        expect(Math.abs(signature(there.key))).toBeLessThanOrEqual(6);
      }
    }
    // Most are no guess.
    expect(guesses).toBeLessThan((lines.length * 11) / 2);
  });

  test('law: of a key that is none they are the closest there are; of a key that fits its own stay', () => {
    const some = fc.uniqueArray(fc.integer({ min: 0, max: 11 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(
        some,
        fc.constantFrom(key('C'), key('A', 'minor'), key('D'), key('E', 'major', -1)),
        (all, k) => {
          // A whole tone or more apart, struck twice: no note is a neighbour of the next.
          const notes = all.map(c => ({ pitch: 60 + c, weight: 1 }));
          const line = lineOf(
            k,
            notes.flatMap(n => [n, { pitch: 96 + ((n.pitch + 6) % 12), weight: 1 }]),
          );
          const own = line.filter(name => isOwn(k, name));
          const classes = [...new Set(line.map(name => modulo(midiOf(name), 12)))];
          // Each class has one name.
          expect(new Set(line.map(letterName)).size).toBe(classes.length);
          if (3 * own.length >= 2 * line.length) return;
          // The shortest stretch of the circle of fifths that holds them all, found by trying every start.
          const circle = classes.map(c => modulo(c * 7, 12));
          const least = Math.min(...circle.map(from => Math.max(...circle.map(f => modulo(f - from, 12)))));
          expect(width(line), letters(line)).toBeLessThanOrEqual(Math.max(10, least));
        },
      ),
      { numRuns: 300, seed: 3 },
    );
  });

  test('a key that fits keeps its own names, and the raised and lowered ones beside them', () => {
    // F♯ and B♭ in C, the raised fourth and the lowered second in C minor (common practice, no source).
    const spelled = (k: Key, pitches: readonly number[]): string =>
      letters(
        lineOf(
          k,
          pitches.map(pitch => ({ pitch, weight: 1 })),
        ),
      );
    expect(spelled(key('C'), [60, 66, 64, 70, 67, 60])).toBe('C F♯ E B♭ G C');
    expect(spelled(key('C'), [60, 64, 66, 69, 61, 65, 67])).toBe('C E F♯ A C♯ F G');
    expect(spelled(key('C', 'minor'), [60, 63, 66, 63, 61, 65, 71, 68, 67, 70, 62])).toBe(
      'C E♭ F♯ E♭ D♭ F B A♭ G B♭ D',
    );
  });
});
