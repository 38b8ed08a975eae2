import { describe, expect, it } from 'vitest';
import { INSTRUMENT_IDS } from '../../core/instruments/instruments.ts';
import {
  decayTime,
  frequencyOf,
  modeRatios,
  modeShape,
  radiated,
  UNIFORM_BAR,
} from '../../core/playback/barModes.ts';
import { malletFor, MALLETS_FOR } from '../../core/instruments/mallets.ts';
import { MALLETS } from '../../core/playback/mallets.ts';
import { contactTime, partialsOf } from '../../core/playback/struckBar.ts';

describe('frequencies', () => {
  it('are equal-tempered at A4 = 440 Hz (ISO 16); middle C is 261.626 Hz (published tables)', () => {
    expect(frequencyOf(69)).toBe(440);
    expect(frequencyOf(60)).toBeCloseTo(261.626, 3);
  });
});

describe('modes of a bar', () => {
  // Fletcher & Rossing, The Physics of Musical Instruments, free-free bar.
  it('of uniform section stand as 1 : 2.7565 : 5.4039 : 8.9330 : 13.344', () => {
    const published = [1, 2.7565, 5.4039, 8.933, 13.344];
    UNIFORM_BAR.forEach((ratio, mode) => {
      expect(ratio).toBeCloseTo(published[mode] ?? 0, mode < 3 ? 3 : 2);
    });
  });

  it('solve cosh x cos x = 1, found here by bisection', () => {
    const root = (low: number, high: number): number => {
      const f = (x: number): number => Math.cosh(x) * Math.cos(x) - 1;
      let [a, b] = [low, high];
      for (let i = 0; i < 80; i += 1) {
        const middle = (a + b) / 2;
        if (f(a) * f(middle) <= 0) b = middle;
        else a = middle;
      }
      return a;
    };
    const first = root(4, 5.5);
    expect((root(7, 8.5) / first) ** 2).toBeCloseTo(UNIFORM_BAR[1] ?? 0, 9);
    expect((root(10.2, 11.8) / first) ** 2).toBeCloseTo(UNIFORM_BAR[2] ?? 0, 9);
  });

  it('of the marimba are 1:4:10:20 (Hill & Errede), of the xylophone 1:3:6', () => {
    expect(modeRatios('marimba')).toEqual([1, 4, 10, 20]);
    expect(modeRatios('xylophone').slice(0, 3)).toEqual([1, 3, 6]);
  });

  it('have mode 1 at rest 22.4 % from the end and mode 2 at rest in the centre (Fletcher & Rossing)', () => {
    expect(Math.abs(modeShape(0, 0.2242))).toBeLessThan(0.002);
    expect(Math.abs(modeShape(1, 0.5))).toBeLessThan(1e-9);
    expect(modeShape(0, 0)).toBeCloseTo(1, 9);
  });
});

describe('decay', () => {
  // T60 = 2.2/(0.0045 f): C3 3.7, C4 1.9, C5 0.93, C6 0.47, C7 0.23 s (computed from the loss factor of Hill & Errede).
  it.each([
    [48, 3.7],
    [60, 1.9],
    [72, 0.93],
    [84, 0.47],
    [96, 0.23],
  ])('of marimba pitch %i is %f s', (pitch, seconds) => {
    expect(decayTime('marimba', frequencyOf(pitch)) / seconds).toBeCloseTo(1, 1);
  });

  it('is much longer on metal', () => {
    expect(decayTime('vibraphone', 523)).toBeGreaterThan(10 * decayTime('marimba', 523));
    expect(decayTime('glockenspiel', frequencyOf(79))).toBeCloseTo(8, 1);
    expect(decayTime('glockenspiel', frequencyOf(108))).toBeCloseTo(2, 1);
  });
});

describe('a tube', () => {
  it('gives a share of the sound, never more than all of it', () => {
    const tubes = [48, 60, 72, 84].flatMap(pitch =>
      partialsOf({ instrument: 'marimba', pitch, velocity: 80 }).flatMap(partial => partial.tube ?? []),
    );
    expect(tubes.length).toBeGreaterThan(0);
    for (const { share } of tubes) {
      expect(share).toBeGreaterThan(0);
      expect(share).toBeLessThan(1);
    }
  });
});

describe('radiation', () => {
  it('loses 12 dB for each octave down where a bar is narrow against the wavelength, a dipole', () => {
    expect(20 * Math.log10(radiated('marimba', 60) / radiated('marimba', 30))).toBeCloseTo(12, 1);
    expect(radiated('glockenspiel', 20000)).toBeGreaterThan(0.9);
  });
});

const upper = (partials: ReturnType<typeof partialsOf>): number =>
  partials.slice(1).reduce((sum, partial) => sum + partial.amplitude, 0) / (partials[0]?.amplitude ?? 1);

describe('the blow', () => {
  // Hertz contact: time goes as speed to the power -1/5 (Fletcher & Rossing; from memory). Speed is velocity^2.4.
  it('lasts shorter the harder it is, as speed^-0.2 for a hard ball', () => {
    const at = (velocity: number): number => contactTime({ instrument: 'xylophone', pitch: 72, velocity });
    expect(at(127) / at(32)).toBeCloseTo((127 / 32) ** (-0.2 * 2.4), 9);
  });

  // The ranges are from memory; medium yarn stands between soft yarn and rubber.
  it.each([
    ['soft-yarn', 0.003, 0.005],
    ['medium-yarn', 0.001, 0.005],
    ['rubber', 0.001, 0.002],
    ['hard-plastic', 0.0003, 0.0006],
    ['brass', 0.00015, 0.0003],
  ] as const)('of a %s mallet lasts %f to %f s at mezzo-forte', (mallet, least, most) => {
    const instrument = INSTRUMENT_IDS.find(id => MALLETS_FOR[id].includes(mallet)) ?? 'marimba';
    const time = contactTime({ instrument, pitch: 60, velocity: 80, mallet });
    expect(time).toBeGreaterThanOrEqual(least);
    expect(time).toBeLessThanOrEqual(most);
    expect(time).toBe(MALLETS[mallet].contact);
  });

  it.each(INSTRUMENT_IDS)('brings out more of the upper modes of a %s the harder it is', instrument => {
    const stroke = { instrument, pitch: 72 } as const;
    expect(upper(partialsOf({ ...stroke, velocity: 120 }))).toBeGreaterThan(
      1.05 * upper(partialsOf({ ...stroke, velocity: 30 })),
    );
  });

  it.each(INSTRUMENT_IDS)('brings out more of the upper modes of a %s the harder the mallet', instrument => {
    const byHardness = Object.keys(MALLETS).filter(id => MALLETS_FOR[instrument].includes(id as 'rubber'));
    const sums = byHardness.map(mallet =>
      upper(partialsOf({ instrument, pitch: 65, velocity: 80, mallet: mallet as 'rubber' })),
    );
    sums.slice(1).forEach((sum, i) => {
      expect(sum).toBeGreaterThan(1.3 * (sums[i] ?? 0));
    });
  });

  it('on the centre leaves mode 2 silent, on the cord hole the fundamental', () => {
    const stroke = { instrument: 'marimba', pitch: 60, velocity: 80 } as const;
    const [first, second] = partialsOf({ ...stroke, place: 0.5 });
    expect((second?.amplitude ?? 1) / (first?.amplitude ?? 0)).toBeLessThan(1e-6);
    const [onHole] = partialsOf({ ...stroke, place: 0.2242 });
    expect(onHole?.amplitude).toBeLessThan(0.05);
  });

  it('with a mallet that the bars do not bear is struck with the usual one', () => {
    expect(malletFor('marimba', 'brass')).toBe('medium-yarn');
    expect(malletFor('glockenspiel', 'brass')).toBe('brass');
    const stroke = { instrument: 'xylophone', pitch: 80, velocity: 80 } as const;
    expect(partialsOf({ ...stroke, mallet: 'brass' })).toEqual(partialsOf(stroke));
  });

  it.each(INSTRUMENT_IDS)(
    'leaves the fundamental of a %s what rings, or stands out from C7 up',
    instrument => {
      for (const pitch of [60, 72, 84, 96]) {
        const partials = partialsOf({ instrument, pitch, velocity: 80 });
        const [fundamental, ...others] = partials;
        for (const other of others) expect(other.t60).toBeLessThan(fundamental?.t60 ?? 0);
        if (pitch >= 96) expect(fundamental?.amplitude).toBe(1);
      }
    },
  );
});
