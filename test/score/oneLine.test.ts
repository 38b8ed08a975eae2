import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { key, keyName } from '../../core/foundation/key.ts';
import { perform } from '../../core/playback/perform.ts';
import { onTheirLines, withRhythmLines } from '../../core/score/oneLine.ts';
import { pieceOfFour } from '../exchange/pieces.ts';
import { scoreOf } from '../gallery/situation.ts';
import { SITUATIONS } from '../gallery/situations/index.ts';

/** What is written of a score without its pitches. */
const rhythmOf = (score: ReturnType<typeof pieceOfFour>) =>
  score.parts.map(part =>
    part.bars.map(bar => ({
      length: bar.length,
      tuplets: bar.tuplets,
      beams: bar.beams,
      symbols: bar.symbols.map(({ onset, duration, value, tiedFrom, tiedTo, pitches }) => ({
        onset,
        duration,
        value,
        tiedFrom,
        tiedTo,
        ref: pitches[0]?.ref,
      })),
    })),
  );

const allOnOneLine = (score: ReturnType<typeof pieceOfFour>) => ({
  ...score,
  parts: score.parts.map(part => ({ ...part, lines: 1 as const })),
});

describe('a rhythm on one line', () => {
  it('law: has the rhythm of the page, note for note, in every situation, and one place for every pitch', () => {
    for (const score of [pieceOfFour(), ...SITUATIONS.map(scoreOf)]) {
      const line = onTheirLines(allOnOneLine(score));
      expect(rhythmOf(line)).toEqual(rhythmOf(score));
      const written = line.parts.flatMap(p => p.bars.flatMap(b => b.symbols.flatMap(s => s.pitches)));
      for (const part of line.parts)
        for (const { symbols } of part.bars)
          expect(symbols.every(({ pitches }) => pitches.length < 2)).toBe(true);
      for (const { spelled, accidental } of written) {
        // B4 is the middle line of the treble clef.
        expect(spelled).toEqual({ letter: 'B', alter: 0, octave: 4 });
        expect(accidental).toBeUndefined();
      }
      for (const small of line.parts.flatMap(p =>
        p.bars.flatMap(b => b.symbols.flatMap(s => [...(s.ruff ?? []), ...(s.grace ?? [])])),
      ))
        expect(small).toEqual({ letter: 'B', alter: 0, octave: 4 });
      expect(line.parts.map(part => part.lines)).toEqual(line.parts.map(() => 1));
      expect([line.key, line.keys]).toEqual([key('C'), undefined]);
    }
  });

  it('is for the page alone: the score it is made from sounds as before', () => {
    const score = pieceOfFour();
    const before = perform(score);
    onTheirLines(allOnOneLine(score));
    expect(perform(score)).toEqual(before);
    expect(score.parts[0]?.bars[0]?.symbols[0]?.onset).toEqual(fraction(0));
  });

  it('law: only a part on one pitch gets one line; beside others the page keeps its key', () => {
    const seen = { one: 0, several: 0 };
    for (const score of SITUATIONS.map(scoreOf)) {
      const line = withRhythmLines(score);
      line.parts.forEach((part, i) => {
        const pitches = part.bars.flatMap(b => b.symbols.flatMap(s => s.pitches.map(p => midiOf(p.spelled))));
        const isOne = new Set(pitches).size === 1;
        seen[isOne ? 'one' : 'several'] += 1;
        expect(part.lines).toBe(isOne ? 1 : score.parts[i]?.lines);
      });
      const { key: drawn } = onTheirLines(line);
      const isRhythm = line.parts.every(part => part.lines === 1);
      expect(drawn).toEqual(isRhythm ? key('C') : score.key);
      // In words likewise: a rhythm is in no key.
      expect(textScore(line)[0]?.startsWith(keyName(score.key))).toBe(!isRhythm);
      expect(perform(line)).toEqual(perform(score));
    }
    expect(Math.min(seen.one, seen.several)).toBeGreaterThan(0);
  });
});
