import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import { struckBarsOf, toneBarsAt } from '../../core/score/struckBars.ts';
import { readingScore } from '../../core/piece/piece.ts';
import { perform } from '../../core/playback/perform.ts';
import { pieceOf, SCALE, takeOf } from '../desk/pieces.ts';

describe('the blows of a part', () => {
  it('are as many, at the same times, as the sound strikes; a tied note is one', () => {
    for (const take of [
      SCALE,
      // Syncopated: notes over beats and the barline are written with ties.
      takeOf('ties', [0, 0.5, 1.5, 2.5, 3.5, 4.5, 6], [72, 76, 79, 76, 72, 74, 72]),
      // Two mallets, an upbeat's rest, and 3/4.
      takeOf('pair', [0, 0, 1, 2, 3, 4.5, 5], [60, 67, 64, 65, 67, 69, 60], 2, metre(3, 4)),
    ]) {
      const score = readingScore(pieceOf(take));
      const [part] = score.parts;
      if (part === undefined) throw new Error('a score has a part');
      const blows = struckBarsOf(part);
      const sounded = perform(score).events;
      expect(blows.flatMap(blow => blow.pitches)).toHaveLength(sounded.length);
      // Crotchet = 120: a semibreve lasts two seconds.
      const times = [...new Set(sounded.map(stroke => stroke.seconds.toFixed(3)))];
      expect(blows.map(blow => (blow.at * (240 / score.tempo)).toFixed(3))).toEqual(times);
      for (const [i, blow] of blows.entries()) {
        expect(blow.until).toBeGreaterThan(blow.at);
        expect(blow.until).toBeLessThanOrEqual((blows[i + 1]?.at ?? Infinity) + 1e-9);
        expect([...blow.pitches].sort((a, b) => a - b)).toEqual(blow.pitches);
      }
    }
  });
});

describe('what is struck now and next', () => {
  it('law: follows the blows one by one, and nothing sounds in a rest', () => {
    const length = fc.integer({ min: 1, max: 8 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(length, length, fc.integer({ min: 48, max: 84 })), { minLength: 1 }),
        raw => {
          let at = 0;
          const blows = raw.map(([sounds, rests, pitch]) => {
            const blow = { at: at / 16, until: (at + sounds) / 16, pitches: [pitch] };
            at += sounds + rests;
            return blow;
          });
          expect(toneBarsAt(blows, undefined)).toEqual({ now: [], next: blows[0]?.pitches });
          blows.forEach((blow, i) => {
            const next = blows[i + 1]?.pitches ?? [];
            for (const place of [blow.at, (blow.at + blow.until) / 2])
              expect(toneBarsAt(blows, place)).toEqual({ now: blow.pitches, next });
            expect(toneBarsAt(blows, blow.until)).toEqual({ now: [], next });
            expect(toneBarsAt(blows, blow.at - 1 / 64).next).toEqual(blow.pitches);
          });
        },
      ),
      { seed: 20261127, numRuns: 100 },
    );
  });
});
