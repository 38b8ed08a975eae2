import { expect, it } from 'vitest';
import { barText, swingName, textScore } from '../../core/exchange/textScore.ts';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import type { Score, ScoreBar } from '../../core/score/score.ts';
import { line, metreOf } from '../score/written.ts';

const first = (metre: string, rhythm: string, upbeat = ZERO): ScoreBar => {
  const [bar] = line(metre, rhythm, upbeat);
  if (bar === undefined) throw new Error('no bar');
  return bar;
};

// British and American names of note values (the two usual sets).
it.each([
  [
    '4/4',
    '1/3 1/3 1/3 1 2',
    'Bar 1: B4 triplet quaver; B4 triplet quaver; B4 triplet quaver; B4 crotchet; B4 minim',
  ],
  ['4/4', 'r1/3 2/3 r1 2', 'Bar 1: triplet quaver rest; B4 triplet crotchet; crotchet rest; B4 minim'],
  ['4/4', '3/2 1 3/2', 'Bar 1: B4 dotted crotchet; B4 quaver, tied; B4 quaver; B4 quaver, tied; B4 crotchet'],
  ['4/4', 'r4', 'Bar 1: whole-bar rest'],
  ['2/4', '1/5 1/5 1/5 1/5 1/5 1', `Bar 1: ${'B4 semiquaver (5 in the time of 4); '.repeat(5)}B4 crotchet`],
] as const)('%s: %s', (metre, rhythm, said) => {
  expect(barText(first(metre, rhythm))).toBe(said);
});

it('an upbeat is called so', () => {
  expect(barText(first('4/4', '1 4', fraction(1, 4)))).toBe('Upbeat: B4 crotchet');
});

it('swing of quavers and of semiquavers', () => {
  expect(swingName({ ratio: 2, unit: fraction(1, 8) })).toBe('swung quavers');
  expect(swingName({ ratio: 2, unit: fraction(1, 16) })).toBe('swung semiquavers');
  expect(swingName({ ratio: 2, unit: fraction(1, 16) }, 'american')).toBe('swung sixteenth notes');
});

const scoreOf = (metre: string, rhythm: string, more: Partial<Score> = {}): Score => {
  const bars = line(metre, rhythm);
  return {
    title: '',
    codeName: '',
    metre: metreOf(metre),
    key: key('C'),
    tempo: 89.6,
    upbeat: ZERO,
    barCount: bars.length,
    letters: [],
    brackets: [],
    parts: [{ id: 'p1', name: 'Wind', short: 'W.', instrument: 'marimba', clef: 'treble', bars }],
    ...more,
  };
};

it('key, metre, swing and the beat the tempo counts', () => {
  const head = (metre: string, more: Partial<Score> = {}): string | undefined =>
    textScore(scoreOf(metre, '1', more))[0];
  expect(head('4/4')).toBe('C major, 4/4, crotchet = 90');
  expect(head('6/8')).toBe('C major, 6/8, dotted crotchet = 90');
  expect(head('2/2')).toBe('C major, 2/2, minim = 90');
  expect(head('4/4', { swing: { ratio: 2, unit: fraction(1, 8) } })).toBe(
    'C major, 4/4, swung quavers, crotchet = 90',
  );
});

it('letters, repeats and new tempi are said where they stand', () => {
  const score = scoreOf('4/4', '4 4 4 4', {
    letters: [{ bar: 1, letter: 'A' }],
    repeats: [
      { bar: 0, bars: 1, times: 2 },
      { bar: 1, bars: 2, times: 5 },
    ],
    tempi: [
      { at: fraction(1), tempo: 60 },
      { at: fraction(7, 2), tempo: 120 },
    ],
  });
  expect(textScore(score).slice(1)).toEqual([
    'Wind',
    'this bar is played twice. Bar 1: B4 semibreve',
    'Letter A, bars 2 to 3 are played 5 times, crotchet = 60 from beat 1. Bar 2: B4 semibreve',
    'Bar 3: B4 semibreve',
    'crotchet = 120 from beat 3. Bar 4: B4 semibreve',
  ]);
});

it('on one line no pitch is said, of a small note neither', () => {
  const bar = first('4/4', '1 r1 2');
  expect(barText(bar, 'british', 1)).toBe('Bar 1: crotchet; crotchet rest; minim');
  const [one, ...more] = bar.symbols;
  if (one === undefined) throw new Error('no symbol');
  const b4 = { letter: 'B', alter: 0, octave: 4 } as const;
  const graced = { ...bar, symbols: [{ ...one, grace: [b4], ruff: [b4] }, ...more] };
  expect(barText(graced, 'british', 1)).toMatch(/^Bar 1: grace notes to crotchet; /);
  expect(barText(graced)).toMatch(/^Bar 1: grace notes B4, B4 to B4 crotchet; /);
  const chord = { ...bar, symbols: [{ ...one, grace: [b4, { ...b4, letter: 'D' as const }] }, ...more] };
  expect(barText(chord)).toMatch(/^Bar 1: grace note B4 and D4 to B4 crotchet; /);
});
