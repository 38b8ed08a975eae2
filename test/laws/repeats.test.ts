import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  add,
  atMost,
  equal,
  type Fraction,
  fraction,
  less,
  times,
  ZERO,
} from '../../core/foundation/fraction.ts';
import { key, spell } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { PlacedNote } from '../../core/plan/placed.ts';
import { perform } from '../../core/playback/perform.ts';
import { engravePart } from '../../core/score/engrave.ts';
import { withRepeatBars } from '../../core/score/repeatBars.ts';
import { playedOut } from '../../core/score/repeats.ts';
import type { Score } from '../../core/score/score.ts';
import { written } from '../score/written.ts';

const m = metre(3, 4);
const BAR = fraction(3, 4);

/** Bars to choose from, as lengths in 48ths: crotchets, quavers, a triplet, one held over the barline, silence. */
const BARS: readonly (readonly (readonly [onset: number, duration: number, pitch: number])[])[] = [
  [
    [0, 12, 60],
    [12, 24, 64],
  ],
  [
    [0, 6, 62],
    [6, 6, 67],
    [12, 24, 64],
  ],
  [
    [0, 4, 65],
    [4, 4, 64],
    [8, 4, 62],
    [12, 24, 60],
  ],
  [
    [0, 24, 67],
    [24, 18, 69],
  ],
  [],
  [
    [0, 24, 60],
    [24, 18, 69],
  ],
];

const barsOf = (choice: readonly number[]): ReturnType<typeof engravePart> => {
  const notes = choice.flatMap((which, bar): PlacedNote[] =>
    (BARS[which] ?? []).map(([at, length, pitch]) => ({
      onset: add(times(BAR, bar), fraction(at, 48)),
      duration: fraction(length, 48),
      pitch: spell(key('C'), pitch),
      ref: String(bar),
    })),
  );
  return engravePart({ metre: m, key: key('C'), upbeat: ZERO, bars: choice.length }, notes);
};

const scoreOf = (
  choices: readonly (readonly number[])[],
  more: Partial<Pick<Score, 'tempi' | 'letters' | 'brackets'>> = {},
): Score => ({
  title: '',
  codeName: '',
  metre: m,
  key: key('C'),
  tempo: 100,
  upbeat: ZERO,
  barCount: choices[0]?.length ?? 0,
  letters: [],
  brackets: [],
  ...more,
  parts: choices.map((choice, i) => ({
    id: `p${String(i + 1)}`,
    name: 'Xylophone',
    short: 'Xyl.',
    instrument: 'xylophone' as const,
    clef: 'treble' as const,
    bars: barsOf(choice),
  })),
});

const heard = (score: Score): string[] =>
  perform(score).events.map(
    e => `${e.seconds.toFixed(6)} ${e.duration.toFixed(6)} ${String(e.pitch)} ${String(e.velocity)}`,
  );
const drawn = (score: Score): string[] => score.parts.map(part => written(part.bars));
const bracket = (from: number, to: number): Score['brackets'][number] => ({
  id: `s${String(from)}`,
  part: 'p1',
  from: times(BAR, from),
  to: times(BAR, to),
  text: '',
});

const anyScore = fc
  .integer({ min: 2, max: 9 })
  .chain(count =>
    fc.record({
      choices: fc.array(
        fc.array(fc.constantFrom(0, 0, 1, 1, 2, 3, 4), { minLength: count, maxLength: count }),
        { minLength: 1, maxLength: 2 },
      ),
      tempi: fc.uniqueArray(fc.integer({ min: 1, max: count - 1 }), { maxLength: 2 }),
      letters: fc.uniqueArray(fc.integer({ min: 0, max: count - 1 }), { maxLength: 2 }),
    }),
  )
  .map(({ choices, tempi, letters }) =>
    scoreOf(choices, {
      letters: [...letters].sort((a, b) => a - b).map((bar, i) => ({ bar, letter: 'AB'[i] ?? '' })),
      ...(tempi.length === 0
        ? {}
        : {
            tempi: [...tempi]
              .sort((a, b) => a - b)
              .map((bar, i) => ({ at: times(BAR, bar), tempo: 70 + 40 * i })),
          }),
    }),
  );

describe('repeat bars, whatever the bars', () => {
  it('sound as the bars written out, and are the same page played out again', () => {
    let folded = 0;
    let endings = 0;
    fc.assert(
      fc.property(anyScore, score => {
        const short = withRepeatBars(score);
        if (short.repeats !== undefined) folded++;
        if (short.repeats?.some(r => r.endings !== undefined) === true) endings++;
        const again = playedOut(short);
        expect(heard(again)).toEqual(heard(score));
        expect(heard(short)).toEqual(heard(score));
        expect(again.barCount).toBe(score.barCount);
        expect(drawn(again)).toEqual(drawn(score));
        again.parts.forEach((part, p) => {
          const before = score.parts[p]?.bars ?? [];
          expect(part.bars.map(b => [b.index, b.number, b.start, b.tuplets])).toEqual(
            before.map(b => [b.index, b.number, b.start, b.tuplets]),
          );
        });
        expect(again.tempi).toEqual(score.tempi);
      }),
      { numRuns: 120, seed: 11 },
    );
    expect(folded).toBeGreaterThan(25);
    expect(endings).toBeGreaterThan(8);
  });

  it('stand apart, in order, inside the score; each letter keeps its bar', () => {
    fc.assert(
      fc.property(anyScore, score => {
        const short = withRepeatBars(score);
        let free = 0;
        for (const { bar, bars, times: often, endings } of short.repeats ?? []) {
          expect(bar).toBeGreaterThanOrEqual(free);
          expect(often).toBeGreaterThan(1);
          free = bar + bars;
          // Nothing is held into a repeat or out of it.
          for (const part of short.parts) {
            expect(part.bars[bar]?.symbols[0]?.tiedFrom).toBe(false);
            expect(part.bars[free - 1]?.symbols.at(-1)?.tiedTo).toBe(false);
          }
          if (endings === undefined) continue;
          expect(bars).toBeGreaterThanOrEqual(2 * endings.first);
          // Nor into an ending; and the endings are not the same.
          for (const part of short.parts) {
            expect(part.bars[free - endings.first]?.symbols[0]?.tiedFrom).toBe(false);
            expect(part.bars[free]?.symbols[0]?.tiedFrom).toBe(false);
          }
          const ends = [free - endings.first, free].map(at =>
            short.parts.map(part =>
              part.bars
                .slice(at, at + endings.first)
                .map(b => b.symbols.map(s => [s.value, s.pitches.map(p => p.spelled)])),
            ),
          );
          expect(ends[0]).not.toEqual(ends[1]);
          free += endings.last;
        }
        expect(free).toBeLessThanOrEqual(short.barCount);
        expect(short.letters.map(l => l.letter)).toEqual(score.letters.map(l => l.letter));
        short.letters.forEach((l, i) => {
          const was = score.letters[i]?.bar ?? -1;
          expect(short.parts.map(p => written(p.bars.slice(l.bar, l.bar + 1)))).toEqual(
            score.parts.map(p => written(p.bars.slice(was, was + 1))),
          );
        });
      }),
      { numRuns: 120, seed: 12 },
    );
  });
});

it('two bars alike in their first bar only have two endings, where they have in every part', () => {
  expect(withRepeatBars(scoreOf([[0, 1, 0, 2]])).repeats).toEqual([
    { bar: 0, bars: 2, times: 2, endings: { first: 1, last: 1 } },
  ]);
  expect(withRepeatBars(scoreOf([[0, 1, 2, 2, 0, 1, 3, 2]])).repeats).toEqual([
    { bar: 0, bars: 4, times: 2, endings: { first: 2, last: 2 } },
  ]);
  expect(withRepeatBars(scoreOf([[0, 1, 0, 1]])).repeats).toEqual([{ bar: 0, bars: 2, times: 2 }]);
  expect(
    withRepeatBars(
      scoreOf([
        [0, 1, 0, 1],
        [0, 1, 1, 1],
      ]),
    ).repeats,
  ).toBeUndefined();
});

it('a bar played four times is one, and what follows is not swallowed', () => {
  const short = withRepeatBars(scoreOf([[0, 0, 0, 0, 1, 2, 2]]));
  expect(short.repeats).toEqual([
    { bar: 0, bars: 1, times: 4 },
    { bar: 2, bars: 1, times: 2 },
  ]);
  expect(short.barCount).toBe(3);
});

it('a bracket keeps to the bars it names, those after a repeat too', () => {
  const out = scoreOf([[0, 1, 0, 1, 2, 3]], { brackets: [bracket(0, 4), bracket(4, 5), bracket(5, 6)] });
  const short = withRepeatBars(out);
  const inBars = (at: Fraction): number => (at.n * BAR.d) / (at.d * BAR.n);
  expect(short.repeats).toEqual([{ bar: 0, bars: 2, times: 2 }]);
  expect(short.brackets.map(b => [inBars(b.from), inBars(b.to)])).toEqual([
    [0, 2],
    [2, 3],
    [3, 4],
  ]);
});

it('a statement that begins or ends inside a second time round keeps it written out', () => {
  const repeats = (...brackets: Score['brackets']): Score['repeats'] =>
    withRepeatBars(scoreOf([[0, 1, 0, 1]], { brackets })).repeats;
  expect(repeats(bracket(0, 4))).toHaveLength(1);
  expect(repeats(bracket(0, 2), bracket(2, 4))).toBeUndefined();
  expect(repeats(bracket(0, 3))).toBeUndefined();
  expect(repeats(bracket(0, 2))).toHaveLength(1);
});

it('a new tempo within keeps bars written out; one after them, or before, does not', () => {
  const repeats = (bar: number): Score['repeats'] =>
    withRepeatBars(scoreOf([[3, 0, 0, 2]], { tempi: [{ at: times(BAR, bar), tempo: 60 }] })).repeats;
  expect(repeats(2)).toBeUndefined();
  expect(repeats(3)).toHaveLength(1);
});

it('each place of a page played out is heard as often as its bar is played', () => {
  const score = { ...scoreOf([[0, 1, 2]]), repeats: [{ bar: 1, bars: 1, times: 3 }] };
  const out = playedOut({ ...score, tempi: [{ at: BAR, tempo: 60 }] });
  expect(out.tempi?.map(t => t.at)).toEqual([1, 2, 3].map(bar => times(BAR, bar)));
  const onsets = out.parts.flatMap(p => p.bars.flatMap(b => b.symbols.map(s => s.onset)));
  expect(onsets.every((at, i) => i === 0 || less(onsets[i - 1] ?? ZERO, at))).toBe(true);
  expect(out.parts[0]?.bars.every(b => b.symbols.every(s => atMost(b.start, s.onset)))).toBe(true);
  expect(equal(out.parts[0]?.bars.at(-1)?.start ?? ZERO, times(BAR, 4))).toBe(true);
});

it('a note held into a repeat in one part keeps both parts written out', () => {
  // Bars 3 and 5 hold their last note into the silent bar after them.
  const held = [5, 4, 3, 4, 3, 4];
  const plain = [2, 0, 1, 0, 1, 2];
  expect(withRepeatBars(scoreOf([plain])).repeats).toEqual([{ bar: 1, bars: 2, times: 2 }]);
  expect(withRepeatBars(scoreOf([held, plain])).repeats).toBeUndefined();
  expect(withRepeatBars(scoreOf([plain, held])).repeats).toBeUndefined();
});
