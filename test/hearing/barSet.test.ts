import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { learnBars, soundingIn } from '../../core/hearing/barSet.ts';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { MODELS, soundOf } from './bars.ts';

/** A of 446 Hz over one of 440, in semitones (12 log2 446/440). */
const HIGHEST_A = 12 * Math.log2(446 / 440);

describe('each bar struck once', () => {
  it('law: a diatonic row around an A of 440 to 446, each bar up to 30 cents off that, is named right', () => {
    const NATURALS = [77, 79, 81, 83, 84, 86, 88, 89, 91, 93, 95, 96];
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: HIGHEST_A, noNaN: true }),
        fc.array(fc.double({ min: -0.3, max: 0.3, noNaN: true }), { minLength: 12, maxLength: 12 }),
        fc.integer({ min: 3, max: 12 }),
        (tuning, off, count) => {
          const pitches = NATURALS.slice(0, count).map((midi, i) => midi + tuning + (off[i] ?? 0));
          // The same order or another, and one of them twice.
          const again = (pitches[1] ?? 0) + 0.02;
          const learnt = learnBars([...pitches].reverse().concat(again));
          expect(learnt.ok && learnt.value.map(bar => bar.sounding)).toEqual(NATURALS.slice(0, count));
        },
      ),
      { numRuns: 300, seed: 11 },
    );
  });

  it('a chromatic row with bars 20 cents apart at the worst keeps every name once', () => {
    const off = [0.1, -0.1, 0.35, -0.35, 0.3, 0, -0.2, 0.4, -0.35, 0.2, 0.1, -0.3, 0.05];
    const pitches = off.map((o, i) => 72 + i + o);
    const learnt = learnBars(pitches);
    expect(learnt.ok && learnt.value.map(bar => bar.sounding)).toEqual(off.map((_, i) => 72 + i));
  });

  it('too few, and two that cannot be told apart, are said', () => {
    expect(learnBars([])).toMatchObject({ ok: false, problem: { kind: 'out-of-range' } });
    expect(learnBars([72, 74, 74.05])).toMatchObject({ ok: false, problem: { kind: 'out-of-range' } });
    // Four bars between C and C♯ and a half: no tuning gives them four names.
    expect(learnBars([72.0, 72.15, 72.3, 72.45])).toMatchObject({ ok: false, problem: { kind: 'conflict' } });
  });

  it('a strike is the nearest bar of the set; far from all of them it keeps its own name', () => {
    const set = [
      { sounding: 77, pitch: 77.4 },
      { sounding: 79, pitch: 78.7 },
    ];
    expect(soundingIn(set, { pitch: 77.5, sounding: 78 })).toBe(77);
    expect(soundingIn(set, { pitch: 78.4, sounding: 78 })).toBe(79);
    expect(soundingIn(set, { pitch: 84.1, sounding: 84 })).toBe(84);
    expect(soundingIn([], { pitch: 84.1, sounding: 84 })).toBe(84);
  });

  it('struck once, live, a row that is badly out of tune; then a short phrase on it, live and from a file', () => {
    const off = [0.38, -0.3, 0.4, -0.1, 0.35, 0.4, 0.38, -0.35];
    const row = [77, 79, 81, 82, 84, 86, 88, 89];
    const once = row.map((midi, i) => ({ at: 1 + i * 0.7, midi: midi + (off[i] ?? 0) }));
    const ear = createEar(22050);
    const { struck } = ear.hear(soundOf(once, MODELS.xylophone, { rate: 22050 }).samples);
    const learnt = learnBars([...struck, ...ear.end().struck].map(bar => bar.pitch));
    expect(learnt.ok && learnt.value.map(bar => bar.sounding)).toEqual(row);
    const set = learnt.ok ? learnt.value : [];
    // Only the sharpest bars and one flat one: from these alone the set's tuning is guessed wrong.
    const tune = [2, 4, 5, 7, 6, 2];
    const phrase = soundOf(
      tune.map((bar, i) => ({ at: 1 + i * 0.5, midi: (row[bar] ?? 0) + (off[bar] ?? 0) })),
      MODELS.xylophone,
      { rate: 22050 },
    );
    const wanted = tune.map(bar => row[bar]);
    const whole = struckBars(phrase);
    expect(whole.map(bar => soundingIn(set, bar))).toEqual(wanted);
    expect(whole.map(bar => bar.sounding)).not.toEqual(wanted);
    const second = createEar(22050);
    const live = [...second.hear(phrase.samples).struck, ...second.end().struck];
    expect(live.map(bar => soundingIn(set, bar))).toEqual(wanted);
  });
});
