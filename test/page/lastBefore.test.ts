import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { engravePart } from '../../core/score/engrave.ts';
import type { ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import { lastBefore } from '../../renderer/page/lastBefore.ts';
import { slursIn } from '../../renderer/page/slurs.ts';
import { openHairpin } from '../../renderer/page/vertical.ts';

type Marks = Pick<ScoreSymbol, 'slur' | 'hairpin' | 'hairpinEnds'>;
const MARKS: readonly Marks[] = [
  {},
  {},
  { slur: 'start' },
  { slur: 'stop' },
  { hairpin: 'crescendo' },
  { hairpin: 'diminuendo' },
  { hairpinEnds: true },
];

/** Crotchets in 4/4 with signs that begin and end anywhere. */
const anyPart: fc.Arbitrary<ScorePart> = fc
  .array(fc.constantFrom(...MARKS), { minLength: 4, maxLength: 40 })
  .map(marks => {
    const notes = marks.map((_, i) => ({
      onset: fraction(i, 4),
      duration: fraction(1, 4),
      pitch: spell(key('C'), 72),
      ref: String(i),
    }));
    const frame = { metre: metre(4, 4), key: key('C'), upbeat: ZERO, bars: Math.ceil(marks.length / 4) };
    const bars = engravePart(frame, notes).map((bar, b) => ({
      ...bar,
      symbols: bar.symbols.map((symbol, i) => ({ ...symbol, ...marks[b * 4 + i] })),
    }));
    return { id: 'p1', name: 'Xylophone', short: 'Xyl.', instrument: 'xylophone', clef: 'treble', bars };
  });

describe('what runs into a system from before it', () => {
  it('is what a player who reads from the beginning has open', () => {
    fc.assert(
      fc.property(anyPart, part => {
        let hairpin: ScoreSymbol | undefined;
        let slur = false;
        part.bars.forEach((bar, first) => {
          expect(openHairpin(part, first)).toEqual(hairpin);
          const [running] = slursIn(part, first, 1);
          const ends = bar.symbols.find(s => s.slur !== undefined);
          // A slur that came from before is drawn from the edge: it has no beginning here.
          const runsIn = slur && ends?.slur !== 'start';
          expect(running !== undefined && running.from === undefined).toBe(runsIn);
          for (const symbol of bar.symbols) {
            if (symbol.hairpin !== undefined) hairpin = symbol;
            if (symbol.hairpinEnds === true) hairpin = undefined;
            if (symbol.slur !== undefined) slur = symbol.slur === 'start';
          }
        });
      }),
      { numRuns: 60, seed: 20261127 },
    );
  });

  it('is found by going through a part once, however many systems ask', () => {
    const [part] = fc.sample(anyPart, { numRuns: 1, seed: 20261128 });
    let asked = 0;
    const isFirst = (symbol: ScoreSymbol): boolean => {
      asked += 1;
      return symbol === part?.bars[0]?.symbols[0];
    };
    for (let bar = 0; part !== undefined && bar <= part.bars.length; bar++) {
      expect(lastBefore(part, bar, isFirst)).toBe(bar === 0 ? undefined : part.bars[0]?.symbols[0]);
    }
    expect(asked).toBe(part?.bars.reduce((sum, bar) => sum + bar.symbols.length, 0));
  });
});
