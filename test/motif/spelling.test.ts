import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import {
  isWorthSign,
  type Key,
  key,
  MODE_NAMES,
  scaleMidi,
  signature,
  writable,
} from '../../core/foundation/key.ts';
import { LETTERS, midiOf, pitchName, staffPosition } from '../../core/foundation/pitch.ts';
import { applyTreatment } from '../../core/motif/apply.ts';
import { motifOfReading } from '../../core/piece/motifOfReading.ts';
import { neededToneBars } from '../../core/playable/check.ts';
import { concertSet } from '../../core/playable/presets.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { signatureAlter } from '../../core/score/accidentals.ts';
import { notesOfReading } from '../../core/score/fromReading.ts';

const readingOf = (pitches: readonly number[]): Reading => ({
  metre: { upper: 4, lower: 4 },
  tempo: 100,
  upbeat: fraction(0),
  grid: 'automatic',
  notes: pitches.map((pitch, i) => ({
    onset: fraction(i, 8),
    duration: fraction(1, 8),
    pitch,
    strike: i,
    doubt: 0,
  })),
  dropped: [],
  misfit: 0,
  confidence: 1,
  reason: '',
  beats: [0, 0.6],
  firstBeat: 0,
});
const bars = (pitches: readonly number[]): { from: number; to: number } => ({
  from: 1,
  to: Math.max(1, Math.ceil(pitches.length / 8)),
});
const written = (k: Key, pitches: readonly number[]): string[] =>
  notesOfReading(readingOf(pitches), k).map(n => pitchName(n.pitch));
const stated = (k: Key, pitches: readonly number[]): string[] => {
  const motif = motifOfReading(readingOf(pitches), k, bars(pitches));
  const [statement] = firstPlan('marimba', 100).statements;
  return statement === undefined ? [] : notesOfStatement(motif, statement).map(n => pitchName(n.pitch));
};

describe('spelling as it is printed', () => {
  test.each([
    // Beethoven, Bagatelle WoO 59, opening (public domain).
    ['A minor', key('A', 'minor'), [76, 75, 76, 75, 76, 71, 74, 72, 69], 'E5 D♯5 E5 D♯5 E5 B4 D5 C5 A4'],
    // The melodic chromatic scale: sharps rising, flats falling (common practice, no source).
    [
      'rising',
      key('C'),
      [60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70, 71, 72],
      'C4 C♯4 D4 D♯4 E4 F4 F♯4 G4 G♯4 A4 A♯4 B4 C5',
    ],
    [
      'falling',
      key('C'),
      [72, 71, 70, 69, 68, 67, 66, 65, 64, 63, 62, 61, 60],
      'C5 B4 B♭4 A4 A♭4 G4 G♭4 F4 E4 E♭4 D4 D♭4 C4',
    ],
    // J. S. Bach, Art of Fugue, Contrapunctus VII, tenor bar 1 (Mutopia Project): the leading note of D minor.
    [
      'D minor',
      key('D', 'minor'),
      [62, 69, 67, 65, 64, 62, 61, 62, 64, 65],
      'D4 A4 G4 F4 E4 D4 C♯4 D4 E4 F4',
    ],
    // The seventh degree of the minor scale is raised on its own letter (common practice, no source).
    ['G♯ minor', key('G', 'minor', 1), [68, 67, 68, 70, 63, 67, 68], 'G♯4 F𝄪4 G♯4 A♯4 D♯4 F𝄪4 G♯4'],
    ['its dominant', key('G', 'minor', 1), [68, 63, 67, 70, 67, 63], 'G♯4 D♯4 F𝄪4 A♯4 F𝄪4 D♯4'],
    ['D♯ minor', key('D', 'minor', 1), [75, 74, 75, 70, 74, 75], 'D♯5 C𝄪5 D♯5 A♯4 C𝄪5 D♯5'],
    ['A♯ minor', key('A', 'minor', 1), [70, 69, 70], 'A♯4 G𝄪4 A♯4'],
    ['A♭ minor', key('A', 'minor', -1), [68, 67, 68, 70, 71], 'A♭4 G4 A♭4 B♭4 C♭5'],
    // Published melodies in the public domain, as they are printed; typed from memory.
    [
      'Chopin, Fantaisie-Impromptu, first run',
      key('C', 'minor', 1),
      [68, 69, 68, 67, 68, 73, 76, 75, 73, 75, 73, 72, 73, 76, 80],
      'G♯4 A4 G♯4 F𝄪4 G♯4 C♯5 E5 D♯5 C♯5 D♯5 C♯5 B♯4 C♯5 E5 G♯5',
    ],
    ['Bach, fugue BWV 849', key('C', 'minor', 1), [61, 60, 64, 63, 61], 'C♯4 B♯3 E4 D♯4 C♯4'],
    [
      'Bach, fugue BWV 857',
      key('F', 'minor'),
      [60, 61, 60, 59, 64, 65, 58, 57, 56, 55, 53],
      'C4 D♭4 C4 B3 E4 F4 B♭3 A3 A♭3 G3 F3',
    ],
    [
      'the theme of the Musical Offering',
      key('C', 'minor'),
      [60, 63, 67, 68, 59, 67, 66, 65, 64, 63, 62, 61, 60, 59, 55, 60, 65, 63, 62, 60],
      'C4 E♭4 G4 A♭4 B3 G4 F♯4 F4 E4 E♭4 D4 D♭4 C4 B3 G3 C4 F4 E♭4 D4 C4',
    ],
    [
      'Bizet, Habanera, first bars',
      key('D', 'minor'),
      [74, 73, 72, 72, 72, 71, 70, 69],
      'D5 C♯5 C5 C5 C5 B4 B♭4 A4',
    ],
    ['Liszt, Liebestraum', key('A', 'major', -1), [63, 72, 72, 73, 72, 70, 72], 'E♭4 C5 C5 D♭5 C5 B♭4 C5'],
    ['C pentatonic', key('C', 'major pentatonic'), [60, 65, 67, 70, 69], 'C4 F4 G4 B♭4 A4'],
    ['A minor pentatonic', key('A', 'minor pentatonic'), [69, 71, 72, 77, 76], 'A4 B4 C5 F5 E5'],
  ])('%s: Write, Grow and the bars to set out say the same', (_, k, pitches, wanted) => {
    expect(written(k, pitches).join(' ')).toBe(wanted);
    expect(stated(k, pitches).join(' ')).toBe(wanted);
    const motif = motifOfReading(readingOf(pitches), k, bars(pitches));
    const names = neededToneBars(motif, concertSet('marimba'), firstPlan('marimba', 100).statements);
    for (const { name } of names) expect(wanted.split(' ')).toContain(name);
  });

  test('law: Write and Grow spell alike, nothing changes pitch, no note has more than one sign beyond the key', () => {
    const keys = fc
      .tuple(fc.constantFrom(...LETTERS), fc.constantFrom(...MODE_NAMES), fc.constantFrom(-1, 0, 1))
      .map(([letter, mode, alter]) => writable(key(letter, mode, alter)));
    fc.assert(
      fc.property(
        keys,
        fc.array(fc.integer({ min: 48, max: 84 }), { minLength: 1, maxLength: 16 }),
        (k, pitches) => {
          expect(stated(k, pitches)).toEqual(written(k, pitches));
          const spelled = notesOfReading(readingOf(pitches), k).map(n => n.pitch);
          expect(spelled.map(midiOf)).toEqual(pitches);
          for (const s of spelled) {
            const beyond = Math.abs(s.alter - signatureAlter(k, s.letter));
            // Two signs only where the signature has one of them: sharps always, flats from five on.
            if (Math.abs(s.alter) > 1) expect(beyond).toBe(1);
            if (Math.abs(signature(k)) <= 4) expect(s.alter).toBeGreaterThanOrEqual(-1);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test('a raised degree of a minor key is not raised once more: it has its sign already', () => {
    const k = key('D', 'melodic minor', 1);
    // B♯ is in the scale and not in the signature, so that B𝄪 would be two signs away from it.
    expect(notesOfReading(readingOf([48, 49, 50]), k).map(n => pitchName(n.pitch))).toEqual([
      'B♯2',
      'C♯3',
      'C𝄪3',
    ]);
    expect(isWorthSign(key('A', 'harmonic minor'), { letter: 'G', alter: 2, octave: 4 })).toBe(false);
    expect(isWorthSign(key('A', 'harmonic minor', 1), { letter: 'F', alter: 2, octave: 4 })).toBe(true);
  });

  test('real transposition keeps the names of intervals: a major third up from C E G is E G♯ B', () => {
    const motif = motifOfReading(readingOf([60, 64, 67]), key('C'), { from: 1, to: 1 });
    const names = (semitones: number): string[] =>
      applyTreatment(motif, key('C'), { kind: 'transpose', by: 'semitone', steps: semitones }).notes.map(n =>
        stepName(key('C'), n),
      );
    expect(names(4)).toEqual(['E4', 'G♯4', 'B4']);
    expect(names(3)).toEqual(['E♭4', 'G4', 'B♭4']);
    expect(names(-2)).toEqual(['B♭3', 'D4', 'F4']);
  });

  test('real inversion keeps them too: C E G about C falls by the same thirds, A♭ and F', () => {
    const motif = motifOfReading(readingOf([72, 76, 79]), key('C'), { from: 1, to: 1 });
    const turned = applyTreatment(motif, key('C'), { kind: 'invert', by: 'semitone' });
    expect(turned.notes.map(n => stepName(key('C'), n))).toEqual(['C5', 'A♭4', 'F4']);
  });

  test('law: moved or turned by semitones, every interval spans as many letters as before', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(60, 62, 64, 65, 67, 69, 71, 72), { minLength: 2, maxLength: 6 }),
        fc.constantFrom(-5, -3, -2, 2, 3, 5, 7),
        (pitches, semitones) => {
          const k = key('C');
          const motif = motifOfReading(readingOf(pitches), k, bars(pitches));
          const moved = applyTreatment(motif, k, { kind: 'transpose', by: 'semitone', steps: semitones });
          const letters = (notes: typeof motif.notes): number[] =>
            notes.slice(1).map((n, i) => n.degree - (notes[i]?.degree ?? 0));
          expect(letters(moved.notes)).toEqual(letters(motif.notes));
          expect(moved.notes.map(n => scaleMidi(k, n))).toEqual(
            motif.notes.map(n => scaleMidi(k, n) + semitones),
          );
        },
      ),
    );
  });
});

const stepName = (k: Key, note: { degree: number; alter: number }): string => {
  const natural = scaleMidi(k, { degree: note.degree, alter: 0 });
  const letter =
    LETTERS[((staffPosition({ letter: 'C', alter: 0, octave: 4 }) % 7) + note.degree) % 7] ?? 'C';
  const octave = Math.floor(note.degree / 7);
  expect(midiOf({ letter, alter: 0, octave })).toBe(natural);
  return pitchName({ letter, alter: note.alter, octave });
};
