import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createClapEar } from '../../core/hearing/clapEar.ts';
import { CLAP_PITCH, clapsIn } from '../../core/hearing/claps.ts';
import type { StruckBar } from '../../core/hearing/hear.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import { noise } from './bars.ts';
import { type Clapped, soundOfClaps } from './clapping.ts';

/** Son clave twice, as sixteenths (Toussaint 2005): at crotchet 96, after a second in which the room is heard. */
const STEP = 60 / 96 / 4;
const claps = [0, 3, 6, 10, 12, 16, 19, 22, 26, 28].map((step, i) => ({
  at: 1 + step * STEP,
  velocity: 70 + ((i * 37) % 50),
}));

/** What is told of a sound cut into pieces of these lengths, and how long after each blow. */
const heardBy = (
  { rate, samples }: Recording,
  lengths: readonly number[],
): { struck: StruckBar[]; lags: number[] } => {
  const ear = createClapEar(rate);
  const struck: StruckBar[] = [];
  const lags: number[] = [];
  for (let from = 0, i = 0; from < samples.length; i++) {
    const to = Math.min(samples.length, from + (lengths[i % lengths.length] ?? 256));
    const heard = ear.hear(samples.subarray(from, to));
    expect(heard.atOnce).toEqual(heard.struck);
    struck.push(...heard.struck);
    lags.push(...heard.struck.map(bar => to / rate - bar.at));
    from = to;
  }
  struck.push(...ear.end().struck);
  return { struck, lags };
};

describe('claps in sound that goes on', () => {
  const kinds: readonly Clapped[] = ['hands', 'desk', 'drum'];
  const rooms = [
    { hiss: 0.0005 },
    { hiss: 0.002, room: 0.12 },
    { hiss: 0.012 },
    { rate: 16_000, hiss: 0.002 },
    { rate: 96_000 },
  ];
  it.each(kinds.flatMap(kind => rooms.map(room => [kind, room] as const)))(
    '%s, %o: each is told once, where it was struck, within 30 ms',
    (kind, room) => {
      const sound = soundOfClaps(claps, kind, room);
      const { struck, lags } = heardBy(sound, [256]);
      expect(struck).toHaveLength(claps.length);
      struck.forEach((bar, i) => {
        expect(Math.abs(bar.at - (claps[i]?.at ?? NaN))).toBeLessThan(0.008);
        expect(bar).toMatchObject({ sounding: CLAP_PITCH, unpitched: true });
      });
      expect(Math.max(...lags)).toBeLessThan(0.03);
      const whole = clapsIn(sound).map(bar => bar.at.toFixed(6));
      expect(struck.map(bar => bar.at.toFixed(6))).toEqual(whole);
      // By the last one the claps are as well known as in the whole recording.
      expect(struck.at(-1)?.velocity).toBe(clapsIn(sound).at(-1)?.velocity);
    },
  );

  it('law: however the sound is cut, the same blows are told', () => {
    const sound = soundOfClaps(claps, 'hands', { hiss: 0.004, room: 0.1, seed: 3 });
    const { struck } = heardBy(sound, [256]);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 30_000 }), { minLength: 1, maxLength: 6 }), lengths => {
        expect(heardBy(sound, lengths).struck).toEqual(struck);
      }),
      { numRuns: 20 },
    );
  });

  it('says how hard each was, beside those before; a cough far below them is none', () => {
    const loud = { at: 1, velocity: 120 };
    const rhythm = [loud, ...[1.5, 2, 2.5, 3].map(at => ({ at, velocity: 120 })), { at: 3.5, velocity: 60 }];
    const { struck } = heardBy(soundOfClaps(rhythm, 'hands'), [256]);
    expect(struck).toHaveLength(6);
    expect(struck[5]?.velocity ?? 127).toBeLessThan((struck[4]?.velocity ?? 0) - 8);
    expect(heardBy(soundOfClaps([...rhythm, { at: 4, velocity: 4 }], 'hands'), [256]).struck).toHaveLength(6);
  });

  it('hears none in silence, in steady noise, or before the room is known, and rests for minutes', () => {
    const random = noise(5);
    const hiss = Float32Array.from({ length: 3 * 44_100 }, () => 0.05 * random());
    expect(heardBy({ rate: 44_100, samples: hiss }, [256]).struck).toEqual([]);
    expect(heardBy({ rate: 8000, samples: new Float32Array(8000) }, [256]).struck).toEqual([]);
    expect(heardBy(soundOfClaps([{ at: 0.3 }, { at: 1 }], 'hands'), [256]).struck).toHaveLength(1);
    // After two minutes of silence, in which looks are let go of, a clap stands where it was struck.
    const long = soundOfClaps([{ at: 1 }, { at: 121.25 }], 'hands', { rate: 8000 });
    const late = heardBy(long, [4096]).struck;
    expect(late.map(bar => bar.at)).toEqual([expect.closeTo(1, 2), expect.closeTo(121.25, 2)]);
  });
});
