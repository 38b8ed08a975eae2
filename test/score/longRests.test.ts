import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import { INSTRUMENTS, transpositionWords } from '../../core/instruments/instruments.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import type { Score } from '../../core/score/score.ts';

const motif: Motif = {
  key: key('C'),
  metre: metre(4, 4),
  length: fraction(1),
  notes: [{ onset: fraction(0), duration: fraction(1), degree: 28, alter: 0 }],
};
/** One part plays ten bars, the other the first, the seventh and the last. */
const plan: Plan = {
  ...firstPlan('xylophone', 96),
  parts: [
    { id: 'p1', instrument: 'xylophone' },
    { id: 'p2', instrument: 'glockenspiel' },
  ],
  statements: [
    { id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 10 },
    ...[0, 6, 9].map(bar => ({
      id: `t${String(bar)}`,
      part: 'p2',
      onset: fraction(bar),
      chain: [],
      times: 1,
    })),
  ],
};
const partOf = (of: Plan): Score => {
  const own = partScores(scoreOfPlan(motif, of, '', ''))[1];
  if (own === undefined) throw new Error('no part');
  return withLongRests(own);
};
const told = (score: Score): string =>
  (score.parts[0]?.bars ?? [])
    .map(b => `${String(b.number)}${b.restBars === undefined ? '' : `:${String(b.restBars)}`}`)
    .join(' ');

describe('long rests of a part', () => {
  it('stand for bars of silence in a row; bars keep their numbers', () => {
    const score = partOf(plan);
    expect(told(score)).toBe('1 2:5 7 8:2 10');
    expect(score.barCount).toBe(5);
    expect(score.parts[0]?.bars.map(b => show(b.length))).toEqual(['1', '5', '1', '2', '1']);
    expect(score.parts[0]?.bars.map(b => b.index)).toEqual([0, 1, 2, 3, 4]);
  });

  it('begin anew at a letter and at a new tempo', () => {
    const score = partOf({ ...plan, letters: [{ bar: 3, letter: 'B' }], tempi: [{ bar: 8, tempo: 60 }] });
    expect(told(score)).toBe('1 2:2 4:3 7 8 9 10');
    expect(score.letters).toEqual([{ bar: 2, letter: 'B' }]);
  });

  it('a part that never rests, and the score itself, are as they were', () => {
    const whole = scoreOfPlan(motif, plan, '', '');
    expect(withLongRests(whole)).toEqual(whole);
    const [first] = partScores(whole);
    expect(first === undefined ? undefined : withLongRests(first)).toEqual(first);
  });

  it('an upbeat and a shortened last bar are no bars to count', () => {
    const upbeat: Motif = {
      ...motif,
      upbeat: fraction(1, 4),
      notes: [{ onset: fraction(-1, 4), duration: fraction(1), degree: 28, alter: 0 }],
    };
    const silent = { ...plan, statements: plan.statements.filter(s => s.part === 'p1') };
    const own = partScores(scoreOfPlan(upbeat, silent, '', ''))[1];
    if (own === undefined) throw new Error('no part');
    const told = withLongRests(own).parts[0]?.bars.map(b => [b.number, b.restBars ?? 1]);
    expect(told).toEqual([
      [0, 1],
      [1, 9],
      [10, 1],
    ]);
  });
});

// Orchestral practice: glockenspiel two octaves, xylophone an octave above what is written; marimba and
// vibraphone as written (instrument makers' and orchestration tables; read in the project's instrument list).
it('transposing parts say how they sound', () => {
  const words = (['glockenspiel', 'xylophone', 'marimba', 'vibraphone'] as const).map(id =>
    transpositionWords(INSTRUMENTS[id].soundsAbove),
  );
  expect(words).toEqual(['sounds two octaves higher', 'sounds an octave higher', '', '']);
  expect(transpositionWords(-12)).toBe('sounds an octave lower');
});
