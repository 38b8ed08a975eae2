import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { enharmonics, nextName } from '../../core/foundation/enharmonic.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { isWritable, type Key, key, MODE_NAMES } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { LETTERS, midiOf, pitchName } from '../../core/foundation/pitch.ts';
import { grow } from '../../core/growing/grow.ts';
import { editByHand } from '../../core/growing/detach.ts';
import { correct, type Edit } from '../../core/piece/edit.ts';
import { motifOfReading } from '../../core/piece/motifOfReading.ts';
import { spelledNote } from '../../core/piece/spelledNote.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { checkPlayable } from '../../core/playable/check.ts';
import { newMusicRoom } from '../../core/playable/musicRoom.ts';
import type { Reading, ReadNote } from '../../core/reading/model/reading.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { scoreOfReading } from '../../core/score/fromReading.ts';
import type { Score } from '../../core/score/score.ts';

/** Crotchets of 4/4. */
const readingOf = (pitches: readonly number[]): Reading => ({
  metre: metre(4, 4),
  tempo: 100,
  upbeat: fraction(0),
  grid: 'automatic',
  notes: pitches.map((pitch, strike) => ({
    onset: fraction(strike, 4),
    duration: fraction(1, 4),
    pitch,
    strike,
    doubt: 0,
  })),
  dropped: [],
  misfit: 0,
  confidence: 1,
  reason: '',
  beats: [0, 1],
  firstBeat: 0,
});
const namesIn = (score: Score): readonly string[] =>
  score.parts.flatMap(part =>
    part.bars.flatMap(bar =>
      bar.symbols.flatMap(s => (s.tiedFrom ? [] : s.pitches.map(p => pitchName(p.spelled)))),
    ),
  );
const namesInXml = (score: Score): readonly string[] =>
  [
    ...musicXml(score).matchAll(
      /<pitch>\s*<step>(.)<\/step>\s*(?:<alter>(-?\d)<\/alter>)?\s*<octave>(-?\d)</g,
    ),
  ].map(([, letter, alter, octave]) =>
    pitchName({ letter: letter as 'C', alter: Number(alter ?? 0), octave: Number(octave) }),
  );
const noteOf = (reading: Reading, strike: number): ReadNote => {
  const note = reading.notes.find(n => n.strike === strike);
  if (note === undefined) throw new Error(`no note ${String(strike)}`);
  return note;
};
const respelled = (reading: Reading, k: Key, strike: number): Edit => {
  const { letter, alter } = nextName(k, spelledNote(reading, k, noteOf(reading, strike)));
  return { kind: 'respell', note: strike, name: { letter, alter } };
};
const growScore = (reading: Reading, k: Key, plan: Plan = firstPlan('marimba', 100)): Score =>
  scoreOfPlan(motifOfReading(reading, k, { from: 1, to: 2 }), plan, '', '');

const keys = fc
  .record({
    letter: fc.constantFrom(...LETTERS),
    alter: fc.integer({ min: -1, max: 1 }),
    mode: fc.constantFrom(...MODE_NAMES),
  })
  .map(({ letter, alter, mode }) => key(letter, mode, alter))
  .filter(isWritable);

describe('names of a pitch', () => {
  // Every pitch has three names with at most double signs, but G♯ and A♭, which have only these two
  // (common practice, no source); in C those within reach of it are offered.
  it.each([
    [60, 'C4 B♯3'],
    [61, 'D♭4 C♯4'],
    [62, 'D4'],
    [63, 'E♭4 D♯4'],
    [64, 'F♭4 E4'],
    [65, 'F4 E♯4'],
    [66, 'G♭4 F♯4'],
    [68, 'A♭4 G♯4'],
    [70, 'B♭4 A♯4'],
    [71, 'C♭5 B4'],
  ])('of %d in C', (pitch, names) => {
    expect(enharmonics(key('C'), pitch).map(pitchName).join(' ')).toBe(names);
  });

  it('holds the raised seventh of G♯ minor, F double sharp', () => {
    expect(enharmonics(key('G', 'minor', 1), 67).map(pitchName)).toEqual(['G4', 'F𝄪4']);
  });

  it('law: each means the pitch, and going round them leads back', () => {
    fc.assert(
      fc.property(keys, fc.integer({ min: 24, max: 108 }), (k, pitch) => {
        const names = enharmonics(k, pitch);
        expect(names.map(midiOf)).toEqual(names.map(() => pitch));
        expect(names.length).toBeGreaterThan(0);
        for (const name of names) {
          let round = name;
          for (let i = 0; i < names.length; i++) round = nextName(k, round);
          expect(pitchName(round)).toBe(pitchName(name));
        }
      }),
    );
  });
});

describe('a note respelled', () => {
  const k = key('C');
  const reading = readingOf([60, 63, 67, 60]);

  it('changes its own name and no other note', () => {
    const edit = respelled(reading, k, 1);
    expect(edit).toMatchObject({ name: { letter: 'D', alter: 1 } });
    const now = correct(reading, [edit]);
    expect(namesIn(scoreOfReading(now, k, 'marimba', '', ''))).toEqual(['C4', 'D♯4', 'G4', 'C4']);
    expect(namesIn(growScore(now, k))).toEqual(['C4', 'D♯4', 'G4', 'C4']);
  });

  it('keeps its name through another length, loses it with another pitch', () => {
    const edit = respelled(reading, k, 1);
    const longer = correct(reading, [edit, { kind: 'length', note: 1, duration: fraction(1, 8) }]);
    expect(pitchName(spelledNote(longer, k, noteOf(longer, 1)))).toBe('D♯4');
    const there = correct(reading, [edit, { kind: 'pitch', note: 1, pitch: 70 }]);
    const back = correct(there, [{ kind: 'pitch', note: 1, pitch: 63 }]);
    expect(pitchName(spelledNote(back, k, noteOf(back, 1)))).toBe('E♭4');
  });

  it('is moved by its letter: D♯ a third up by steps is F♯, as E♭ would be G♭', () => {
    const plan = firstPlan('marimba', 100);
    const moved = (r: Reading): readonly string[] => {
      const motif = motifOfReading(r, k, { from: 1, to: 1 });
      const grown = grow(motif, plan, {
        kind: 'change',
        statement: 's1',
        treatments: [{ kind: 'transpose', by: 'scale', steps: 2 }],
      });
      if (!grown.ok) throw new Error(grown.problem.what);
      return namesIn(scoreOfPlan(motif, grown.value.plan, '', ''));
    };
    expect(moved(reading)[1]).toBe('G♭4');
    expect(moved(correct(reading, [respelled(reading, k, 1)]))[1]).toBe('F♯4');
  });

  it('its flam has its name', () => {
    const grace = { strike: 9, pitch: 63 };
    const flam = { ...reading, notes: reading.notes.map(n => (n.strike === 1 ? { ...n, grace } : n)) };
    const now = correct(flam, [respelled(flam, k, 1)]);
    for (const score of [scoreOfReading(now, k, 'marimba', '', ''), growScore(now, k)])
      expect(score.parts[0]?.bars[0]?.symbols[1]?.grace?.map(pitchName)).toEqual(['D♯4']);
  });

  it('law: page, Grow, MusicXML, words and bars to set out say one name, in every key', () => {
    fc.assert(
      fc.property(
        keys,
        fc.array(fc.integer({ min: 55, max: 84 }), { minLength: 8, maxLength: 8 }),
        fc.array(fc.nat({ max: 7 }), { maxLength: 6 }),
        (inKey, pitches, chosen) => {
          const now = chosen.reduce(
            (so, strike) => correct(so, [respelled(so, inKey, strike)]),
            readingOf(pitches),
          );
          const written = scoreOfReading(now, inKey, 'marimba', '', '');
          const grown = growScore(now, inKey);
          const names = now.notes.map(n => pitchName(spelledNote(now, inKey, n)));
          expect(namesIn(written)).toEqual(names);
          expect(namesIn(grown)).toEqual(names);
          expect(namesInXml(grown)).toEqual(names);
          const words = textScore(grown).join(' ');
          for (const name of names) expect(words).toContain(name);
          const motif = motifOfReading(now, inKey, { from: 1, to: 2 });
          const check = checkPlayable(
            motif,
            firstPlan('marimba', 100),
            newMusicRoom('r', 'room'),
            at => at.n / at.d,
          );
          for (const bar of check.parts[0]?.needed ?? []) expect(names).toContain(bar.name);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('a note of a statement respelled by hand', () => {
  it('unties the statement, and its letter decides where it goes', () => {
    const k = key('C');
    const motif = motifOfReading(readingOf([60, 63, 67, 60]), k, { from: 1, to: 1 });
    const plan = firstPlan('marimba', 100);
    const now = editByHand(motif, plan, 's1', { kind: 'respell', note: 1, name: { letter: 'D', alter: 1 } });
    expect(namesIn(scoreOfPlan(motif, now, '', ''))).toEqual(['C4', 'D♯4', 'G4', 'C4']);
    expect(now.statements[0]?.detached?.[1]).toMatchObject({ degree: 29, alter: 1 });
    const wrong = editByHand(motif, plan, 's1', {
      kind: 'respell',
      note: 1,
      name: { letter: 'A', alter: 0 },
    });
    expect(wrong).toBe(plan);
  });
});
