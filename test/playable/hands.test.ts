import { describe, expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { checkPlayable, handsByBar, type PartCheck } from '../../core/playable/check.ts';
import { type HandLimits, USUAL_LIMITS } from '../../core/playable/limits.ts';
import { newMusicRoom } from '../../core/playable/musicRoom.ts';
import { barPlace } from '../../core/playable/sticking.ts';
import { stickingLines, warningWords } from '../../core/playable/words.ts';
import { clockOf, idea, planFor, type Quaver } from './ideas.ts';

const part = (motif: Motif, plan: Plan, limits: HandLimits = USUAL_LIMITS): PartCheck => {
  const room = { ...newMusicRoom('r1', 'Music room'), limits };
  const [first] = checkPlayable(motif, plan, room, clockOf(motif, plan)).parts;
  if (first === undefined) throw new Error('no part');
  return first;
};
const warned = (motif: Motif, plan: Plan, limits?: HandLimits): string[] =>
  part(motif, plan, limits).warnings.map(w => warningWords(motif.metre, w));
const hands = (motif: Motif, plan: Plan): string => part(motif, plan).sticking.join(' ');

const scale = (count: number, quavers: number, from = 0): Quaver[] =>
  Array.from({ length: count }, (_, i) => [from + i * quavers, quavers, [60, 62, 64, 65][i % 4] ?? 60]);
const thirds = (count: number, quavers: number): Quaver[] =>
  scale(count, quavers).flatMap(([at, length, pitch]): Quaver[] => [
    [at, length, pitch],
    [at, length, pitch + 12],
  ]);

describe('limits from memory: 280 ms one hand, 150 ms alternating, 8 a second, leaps 350 ms', () => {
  test('the usual limits are those', () => {
    expect(USUAL_LIMITS).toEqual({ sameHand: 280, alternating: 150, hardCap: 1000 / 8, leap: 350 });
  });

  test('quavers at crotchet = 120 are 250 ms apart: hand after hand, nothing to warn of', () => {
    const motif = idea(scale(8, 1).map(([at, length]): Quaver => [at, length, 72]));
    expect(hands(motif, planFor('xylophone', 120))).toBe('R L R L R L R L');
    expect(warned(motif, planFor('xylophone', 120))).toEqual([]);
  });

  test('two notes at once take both hands: in quavers at 120 that is faster than one hand can, at 104 not', () => {
    const motif = idea(thirds(4, 1));
    expect(hands(motif, planFor('xylophone', 120))).toBe('B B B B');
    expect(warned(motif, planFor('xylophone', 120))).toEqual([
      'Bar 1, beat 1; bar 1, beat 2: faster than one hand can',
    ]);
    // 60 / 104 / 2 = 288 ms.
    expect(warned(motif, planFor('xylophone', 104))).toEqual([]);
  });

  test('semiquavers: 125 ms at 120 are very fast, 8 a second; at 126 they are over the cap; at 96, 156 ms, well', () => {
    const motif = idea(scale(4, 0.5, 4));
    expect(warned(motif, planFor('xylophone', 120))).toEqual([
      'Bar 1, beat 3: very fast, even hand after hand',
    ]);
    expect(warned(motif, planFor('xylophone', 126))).toEqual([
      'Bar 1, beat 3: faster than two hands can strike at all',
    ]);
    expect(warned(motif, planFor('xylophone', 96))).toEqual([]);
  });

  test('every bar of a drag takes a mallet, its own bar none more than its grace note does', () => {
    const withRuff = (...small: number[]): Motif => {
      const plain = idea([[0, 8, 60]]);
      const [grace, ...ruff] = small.map(degree => ({ degree, alter: 0 }));
      return {
        ...plain,
        notes: plain.notes.map(n => ({ ...n, ...(grace && { grace }), ...(ruff.length > 0 && { ruff }) })),
      };
    };
    const degree = idea([[0, 8, 60]]).notes[0]?.degree ?? 0;
    expect(warned(withRuff(degree, degree, degree), planFor('xylophone'))).toEqual([]);
    expect(warned(withRuff(degree + 1, degree + 1), planFor('xylophone'))).toEqual([]);
    expect(warned(withRuff(degree + 1, degree + 2), planFor('xylophone'))).toEqual([
      'Bar 1, beat 1: more notes at once than two mallets can strike',
    ]);
  });

  test('a tempo change counts from its bar on', () => {
    const motif = idea(scale(4, 0.5));
    const plan: Plan = { ...planFor('xylophone', 80), tempi: [{ bar: 2, tempo: 120 }] };
    const four = { ...plan, statements: plan.statements.map(s => ({ ...s, times: 4 })) };
    expect(warned(motif, four)).toEqual(['Bar 3, beat 1; bar 4, beat 1: very fast, even hand after hand']);
  });

  test('three notes at once are one too many; a grace note takes a mallet too', () => {
    const chord = idea([
      [0, 4, 60],
      [0, 4, 64],
      [0, 4, 67],
      [4, 4, 60],
    ]);
    expect(warned(chord, planFor('xylophone'))).toEqual([
      'Bar 1, beat 1: more notes at once than two mallets can strike',
    ]);
    expect(
      warned(
        idea([
          [0, 4, 60],
          [0, 4, 64],
        ]),
        planFor('xylophone'),
      ),
    ).toEqual([]);
    expect(
      warned(
        idea([
          [0, 4, 60, 60],
          [0, 4, 64],
        ]),
        planFor('xylophone'),
      ),
    ).toHaveLength(1);
    expect(warned(idea([[0, 4, 60, 60]]), planFor('xylophone'))).toEqual([]);
  });

  test('both hands leaping a twelfth in 300 ms (quavers at 100): too far for the time; at 84, 357 ms, well', () => {
    const motif = idea([
      [0, 1, 60],
      [0, 1, 64],
      [1, 1, 79],
      [1, 1, 83],
    ]);
    expect(warned(motif, planFor('xylophone', 100))).toEqual([
      'Bar 1, beat 1: one hand has to leap more than an octave in too short a time',
    ]);
    expect(warned(motif, planFor('xylophone', 84))).toEqual([]);
  });

  test('one note low, one note high, over and over: each hand stays where it is', () => {
    const motif = idea([
      [0, 1, 60],
      [1, 1, 84],
      [2, 1, 60],
      [3, 1, 84],
      [4, 1, 60],
      [5, 1, 84],
    ]);
    expect(hands(motif, planFor('xylophone', 140))).toBe('L R L R L R');
    expect(warned(motif, planFor('xylophone', 140))).toEqual([]);
  });

  test('limits of the room are obeyed', () => {
    const motif = idea(scale(8, 1));
    const slow = { ...USUAL_LIMITS, alternating: 300 };
    expect(warned(motif, planFor('xylophone', 120), slow)).toEqual([
      'Bar 1, beat 1; bar 1, beat 2; bar 1, beat 3; and one more place: very fast, even hand after hand',
    ]);
  });
});

describe('what is shown', () => {
  test('an octave is seven naturals; an accidental lies between its neighbours', () => {
    expect(barPlace(72) - barPlace(60)).toBe(7);
    expect(barPlace(61)).toBe((barPlace(60) + barPlace(62)) / 2);
    expect(barPlace(66)).toBe((barPlace(65) + barPlace(67)) / 2);
  });

  test('hands by bar, bars alike said once, rests left out', () => {
    const motif = idea(scale(4, 2));
    const plan = planFor('xylophone', 90);
    const long: Plan = {
      ...plan,
      statements: [
        { id: 's1', part: 'p1', onset: fraction(0), chain: [], times: 3 },
        { id: 's2', part: 'p1', onset: fraction(5), chain: [], times: 1 },
      ],
    };
    const bars = handsByBar(part(motif, long), motif.metre);
    expect(bars.map(b => b.bar)).toEqual([1, 2, 3, 6]);
    expect(stickingLines(bars)).toEqual(['Bars 1 to 3: L R L R', 'Bar 6: L R L R']);
  });

  test('C D E F over and over leads with the left: so neither hand reaches across from F to C', () => {
    expect(hands(idea(scale(8, 1)), planFor('xylophone', 90))).toBe('L R L R L R L R');
  });

  test('Frère Jacques (traditional) at crotchet = 120, by one player: no hand twice in a row', () => {
    // C D E C twice; E F G- twice; quavers G A G F, crotchets E C, twice; C G3 C- twice.
    const line: Quaver[] = [];
    let at = 0;
    for (const [length, pitches] of [
      [2, [60, 62, 64, 60, 60, 62, 64, 60]],
      [2, [64, 65]],
      [4, [67]],
      [2, [64, 65]],
      [4, [67]],
      [1, [67, 69, 67, 65]],
      [2, [64, 60]],
      [1, [67, 69, 67, 65]],
      [2, [64, 60]],
      [2, [60, 55]],
      [4, [60]],
      [2, [60, 55]],
      [4, [60]],
    ] as const) {
      for (const pitch of pitches) {
        line.push([at, length, pitch]);
        at += length;
      }
    }
    const motif = idea(line, 8, key('C'));
    const found = part(motif, planFor('marimba', 120));
    expect(found.warnings).toEqual([]);
    expect(found.strokes).toHaveLength(32);
    expect(found.needed.map(b => b.name)).toEqual(['G3', 'C4', 'D4', 'E4', 'F4', 'G4', 'A4']);
    // Quavers at 120 are 250 ms: within them no hand strikes twice.
    for (const [i, hand] of found.sticking.entries()) {
      const gap = (found.strokes[i]?.seconds ?? 0) - (found.strokes[i - 1]?.seconds ?? -1);
      if (gap < 0.28) expect(hand).not.toBe(found.sticking[i - 1]);
    }
  });
});
