import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction, subtract, toNumber } from '../../core/foundation/fraction.ts';
import { barLength, metre, tactus } from '../../core/foundation/metre.ts';
import { key } from '../../core/foundation/key.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { countedIn } from '../../core/playback/countIn.ts';
import { perform } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';

/** Crotchets all through, from the upbeat on. */
const score = (upper: number, lower: 4 | 8, upbeat = fraction(0), tempo = 60) => {
  const m = metre(upper, lower);
  const beats = Math.round((toNumber(barLength(m)) + toNumber(upbeat)) / toNumber(tactus(m)));
  const motif: Motif = {
    key: key('C'),
    metre: m,
    length: barLength(m),
    ...(upbeat.n > 0 ? { upbeat } : {}),
    notes: Array.from({ length: beats }, (_, i) => ({
      onset: subtract(fraction(tactus(m).n * i, tactus(m).d), upbeat),
      duration: tactus(m),
      degree: 28 + i,
      alter: 0,
    })),
  };
  return scoreOfPlan(motif, firstPlan('xylophone', tempo), 'Idea', 'Heron');
};

describe('a bar is counted before the music', () => {
  it.each<[name: string, upper: number, lower: 4 | 8, accents: string]>([
    ['4/4', 4, 4, '1...'],
    ['3/4', 3, 4, '1..'],
    ['6/8 in two', 6, 8, '1.'],
    ['9/8 in three', 9, 8, '1..'],
  ])('%s', (_, upper, lower, accents) => {
    const s = score(upper, lower);
    const { click, lead, performance, countsFrom } = countedIn(s, perform(s), 0);
    expect(click.accents.map(strong => (strong ? '1' : '.')).join('')).toBe(accents);
    // A beat a second.
    expect(click.beats).toEqual(accents.split('').map((__, i) => i));
    expect(lead).toBeCloseTo(accents.length, 9);
    expect(performance.events[0]?.seconds).toBeCloseTo(lead, 9);
    expect(countsFrom).toBeCloseTo(-toNumber(barLength(s.metre)), 9);
  });

  it('an upbeat is counted up to: 1 2 3 4, 1 2 3, and the upbeat comes on four', () => {
    const s = score(4, 4, fraction(1, 4));
    expect(toNumber(s.upbeat)).toBe(0.25);
    const { click, lead, performance } = countedIn(s, perform(s), -0.25);
    expect(click.beats).toHaveLength(7);
    expect(click.accents.indexOf(true, 1)).toBe(4);
    expect(lead).toBeCloseTo(7, 9);
    expect(performance.events[0]?.seconds).toBeCloseTo(7, 9);
  });

  it('law: the count ends where the music begins, nothing earlier sounds, and what sounds keeps its distances', () => {
    fc.assert(
      fc.property(
        fc.constantFrom([4, 4], [3, 4], [2, 4], [6, 8], [12, 8], [5, 8]) as fc.Arbitrary<[number, 4 | 8]>,
        fc.integer({ min: 40, max: 200 }),
        fc.integer({ min: 0, max: 3 }),
        ([upper, lower], tempo, beatIn) => {
          const s = score(upper, lower, fraction(0), tempo);
          const place = (beatIn * toNumber(tactus(s.metre))) % toNumber(barLength(s.metre));
          const whole = perform(s);
          const { performance, click, lead, countsFrom } = countedIn(s, whole, place);
          const beat = 60 / tempo;
          expect(lead).toBeCloseTo(click.beats.length * beat, 6);
          expect(click.accents[0]).toBe(true);
          expect(place - countsFrom).toBeCloseTo((lead / beat) * toNumber(tactus(s.metre)), 6);
          expect(performance.events.length).toBeGreaterThan(0);
          expect(Math.min(...performance.events.map(e => e.seconds))).toBeCloseTo(lead, 6);
          const from = whole.events.slice(-performance.events.length);
          performance.events.forEach((event, i) => {
            const before = from[i]?.seconds ?? NaN;
            expect(event.seconds - lead).toBeCloseTo(before - (from[0]?.seconds ?? NaN), 6);
          });
        },
      ),
    );
  });
});
