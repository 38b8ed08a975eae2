import { describe, expect, it } from 'vitest';
import { bandsOf } from '../../core/hearing/bands.ts';
import { createEar } from '../../core/hearing/ear.ts';
import { createSlidingBands } from '../../core/hearing/slidingBands.ts';
import { MODELS, soundOf } from './bars.ts';

const RATE = 8000;
// Two and a half rounds of what is kept.
const blows = Array.from({ length: 24 }, (_, i) => ({ at: 0.6 + 0.43 * i, midi: 72 + ((i * 5) % 14) }));
const sound = soundOf(blows, MODELS.xylophone, { rate: RATE });

/** Where two lists differ first; -1 where nowhere. Thousands of numbers each: quicker than to compare them as values. */
const firstDifference = (a: ArrayLike<number>, b: ArrayLike<number> | undefined): number =>
  Array.from(a).findIndex((value, i) => value !== b?.[i]);

describe('what a sliding stretch lets go of', () => {
  it('leaves the rest as the whole recording has it: loudness, phase and what sounds above', () => {
    let gone = 0;
    const sliding = createSlidingBands(RATE, looks => (gone += looks));
    const before = new Map<number, Float32Array>();
    for (let from = 0; from + sliding.every <= sound.samples.length; from += sliding.every) {
      const [held, rises] = [sliding.gone, sliding.rises(54).slice(0, sliding.bands.looks)];
      sliding.look(sound.samples, from);
      if (sliding.gone > held) before.set(sliding.gone, rises.subarray(sliding.gone - held));
      const mine = before.get(sliding.gone);
      // By how much a band rose does not change once it is told.
      if (sliding.gone > held && mine !== undefined) {
        expect(mine.some(rise => rise > 10)).toBe(true);
        expect(firstDifference(mine, sliding.rises(54))).toBe(-1);
      }
    }
    const { bands } = sliding;
    expect(gone).toBeGreaterThan(0);
    expect(sliding.gone).toBe(gone);
    const whole = bandsOf(sound);
    expect(whole.looks).toBe(gone + bands.looks);
    for (const [i, band] of bands.all.entries()) {
      const there = whole.all[i];
      expect(firstDifference(band.loudness.subarray(0, bands.looks), there?.loudness.subarray(gone))).toBe(
        -1,
      );
      expect(firstDifference(band.phase.subarray(0, bands.looks), there?.phase.subarray(gone))).toBe(-1);
    }
    const loud = soundOf(blows, MODELS.xylophone, { rate: 22050 });
    const bright = createSlidingBands(22050, () => undefined);
    for (let from = 0; from + bright.every <= loud.samples.length; from += bright.every)
      bright.look(loud.samples, from);
    const all = bandsOf(loud).bright;
    expect(all).toHaveLength(3);
    bright.bands.bright.forEach((values, i) => {
      const there = all[i]?.subarray(bright.gone);
      expect(firstDifference(values.subarray(0, bright.bands.looks), there)).toBe(-1);
    });
  });

  it('is never a strike told twice or not at all, wherever it falls', () => {
    // Letting go comes every four seconds; the strikes fall all around it.
    for (const later of [0, 0.2]) {
      const near = blows.map(blow => ({ ...blow, at: blow.at + later }));
      const { samples } = soundOf(near, MODELS.xylophone, { rate: RATE });
      const ear = createEar(RATE);
      const told = [];
      const shown = [];
      for (let from = 0; from < samples.length; from += 256) {
        const heard = ear.hear(samples.subarray(from, from + 256));
        told.push(...heard.struck);
        shown.push(...heard.atOnce);
      }
      told.push(...ear.end().struck);
      const midi = near.map(blow => blow.midi);
      expect(told.map(bar => bar.sounding)).toEqual(midi);
      expect([...shown].sort((a, b) => a.at - b.at).map(bar => bar.sounding)).toEqual(midi);
    }
  });
});
