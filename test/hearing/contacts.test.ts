import { describe, expect, it } from 'vitest';
import { bandsOf, type PitchBands } from '../../core/hearing/bands.ts';
import { createBrightnesses } from '../../core/hearing/brightness.ts';
import { contactsIn } from '../../core/hearing/contacts.ts';
import { noise } from './bars.ts';

const RATE = 22050;
const sine = (f: number, seconds: number): Float32Array =>
  Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => Math.sin((2 * Math.PI * f * i) / RATE));

describe('what sounds above the bars', () => {
  it('is let through as a Butterworth high-pass of the fourth order does, in every piece', () => {
    // |H|^2 = 1 / (1 + (fc / f)^8), frequencies warped by tan (the bilinear transform); Oppenheim and Schafer,
    // Discrete-Time Signal Processing, chapter 7.
    const warped = (f: number): number => Math.tan((Math.PI * f) / RATE);
    for (const [i, above] of [4600, 6500, 8200].entries())
      for (const f of [2300, 4600, 6500, 9000]) {
        const [samples, brightness] = [sine(f, 0.3), createBrightnesses(RATE)[i]];
        brightness?.follow(samples, 0, 2205);
        const half = brightness?.follow(samples, 2205, 4410) ?? 0;
        const ideal = -10 * Math.log10(1 + (warped(above) / warped(f)) ** 8);
        expect(20 * Math.log10(half * Math.SQRT2)).toBeCloseTo(ideal, 1);
      }
  });

  it('is not listened for where a recording has nothing so high', () => {
    expect(createBrightnesses(8000)).toHaveLength(0);
    expect(createBrightnesses(16000)).toHaveLength(2);
    expect(createBrightnesses(22050)).toHaveLength(3);
  });
});

const heardIn = (samples: Float32Array): readonly number[] =>
  contactsIn(bandsOf({ rate: RATE, samples })).map(one => one.at);

describe('contacts of mallets', () => {
  it('are told to a few milliseconds, soft ones soon after hard ones too', () => {
    const random = noise(3);
    const samples = Float32Array.from({ length: 2 * RATE }, () => 0.0005 * random());
    const at = [0.5, 0.56, 0.9, 1.3];
    at.forEach((second, k) => {
      for (let i = 0; i < 0.02 * RATE; i++) {
        const place = Math.round(second * RATE) + i;
        samples[place] =
          (samples[place] ?? 0) + ([0.5, 0.2, 0.5, 0.05][k] ?? 0) * Math.exp(-i / 60) * random();
      }
    });
    const heard = heardIn(samples);
    expect(heard).toHaveLength(at.length);
    heard.forEach((second, k) => {
      expect(Math.abs(second - (at[k] ?? 0))).toBeLessThan(0.005);
    });
  });

  it('are not modes that beat with one another, hiss, or a voice that swells', () => {
    const random = noise(5);
    const beats = Float32Array.from({ length: 2 * RATE }, (_, i) => {
      const t = i / RATE;
      return (
        0.1 * Math.exp(-3 * t) * (Math.sin(2 * Math.PI * 5200 * t) + 0.8 * Math.sin(2 * Math.PI * 5237 * t))
      );
    });
    const hiss = Float32Array.from({ length: 2 * RATE }, () => 0.1 * random());
    const swell = hiss.map((x, i) => x * (0.1 + Math.sin((Math.PI * i) / hiss.length) ** 2));
    expect(heardIn(beats).filter(at => at > 0.03)).toEqual([]);
    for (const sound of [hiss, swell]) {
      const bands: PitchBands = bandsOf({ rate: RATE, samples: sound });
      expect(contactsIn(bands).filter(one => one.at > 0.03 && one.rise >= 6)).toEqual([]);
    }
  });

  it('are at the look in which they are loud, not the one before that sees them coming', () => {
    const hop = 0.003;
    const at = (...loud: readonly number[]): number | undefined => {
      const bright = Float32Array.from({ length: 200 }, (_, look) => loud[look - 100] ?? 0.001);
      const [one, ...more] = contactsIn({ all: [], bright: [bright], hop, looks: 200 });
      expect(more).toEqual([]);
      expect(one?.at).toBeCloseTo(((one?.look ?? 0) + 0.5) * hop, 9);
      return one?.look;
    };
    // Silence at look 100 and loud at 101; half as loud at 100 already; nearly so.
    expect(at(0.001, 0.1, 0.05)).toBe(101);
    expect(at(0.06, 0.1, 0.05)).toBe(100);
    expect(at(0.04, 0.1, 0.05)).toBe(101);
  });

  it('are no sibilants, which go on growing for 42 ms; what jumps in the meantime is another mallet', () => {
    const hop = 0.003;
    /** Bright at look 100, and then so many times as bright look by look, for so many looks. */
    const found = (times: number, looks: number, known = 200): number => {
      const bright = Float32Array.from({ length: 200 }, (_, look) =>
        look < 100 ? 0.001 : 0.01 * times ** Math.min(looks, look - 100),
      );
      const all = contactsIn({ all: [], bright: [bright], hop, looks: known });
      return all.filter(one => one.look === 100).length;
    };
    // By 1 dB a look, from the loudest of the first three on.
    const decibel = 10 ** (1 / 20);
    expect([1, 6, 7, 14].map(looks => found(decibel, looks))).toEqual([1, 1, 0, 0]);
    // Half a dB a look is 6 dB in 36 ms; a third is too little.
    expect([0.5, 0.33].map(dB => found(10 ** (dB / 20), 40))).toEqual([0, 1]);
    // Another mallet 24 ms later.
    const jump = Float32Array.from({ length: 200 }, (_, look) =>
      look < 100 ? 0.001 : look < 108 ? 0.01 : 0.05,
    );
    const both = contactsIn({ all: [], bright: [jump], hop, looks: 200 });
    expect(both.map(one => one.look)).toEqual([100, 108]);
    // What is kept beyond the looks that are known is of long ago.
    expect(found(decibel, 14, 104)).toBe(1);
  });
});
