import { describe, expect, it } from 'vitest';
import { metre, type Metre, showMetre } from '../../../core/foundation/metre.ts';
import { beatTimesOf } from '../../../core/reading/freeBeat/beatTimes.ts';
import { fitBeats } from '../../../core/reading/freeBeat/beatFit.ts';
import { readTake } from '../../../core/reading/read.ts';
import { steadyBeat } from '../../../core/reading/search/steadyBeat.ts';
import type { Take } from '../../../core/take/take.ts';
import { played, places } from '../../takes/written.ts';
import { seeded } from '../invented.ts';

interface Waited {
  readonly idea: readonly number[];
  readonly crotchets: number;
  readonly times: number;
  readonly metre: Metre;
  readonly tempo: number;
  /** The beat in which the player waits, in crotchets from the first, and by how much of a crotchet. */
  readonly from: number;
  readonly by: number;
}

/** An idea played several times, 18 ms uneven; one beat of it lasts longer. */
const waiting = (w: Waited, seed: number): { readonly take: Take; readonly at: readonly number[] } => {
  const next = seeded(seed);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const at = Array.from({ length: w.times }, (_, k) => w.idea.map(x => x + k * w.crotchets)).flat();
  const pitch = at.map((_, i) => 60 + (((i % w.idea.length) * 5) % 12));
  const off = at.map(() => 18 * normal());
  const take = played({ at, pitch, off, tempo: w.tempo, metre: w.metre, click: false });
  const crotchet = 60 / w.tempo;
  const waited = (x: number): number => Math.max(0, Math.min(1, x - w.from)) * w.by * crotchet;
  return {
    at,
    take: { ...take, strikes: take.strikes.map((s, i) => ({ ...s, at: s.at + waited(at[i] ?? 0) })) },
  };
};

const LAST_BEAT: Waited = {
  idea: [0, 0.5, 1, 1.5, 2, 3, 3.5],
  crotchets: 4,
  times: 2,
  metre: metre(4, 4),
  tempo: 96,
  from: 3,
  by: 0.6,
};

// Common practice, no source: a pause or a fermata holds one beat, and the tempo goes on as before.
describe('a beat in which the player waited', () => {
  const cases: readonly (readonly [string, Waited])[] = [
    ['before the second playing', LAST_BEAT],
    ['in the middle of four', { ...LAST_BEAT, times: 4, from: 7, by: 0.8 }],
    [
      'of 3/4',
      {
        ...LAST_BEAT,
        idea: [0, 1, 2, 2.5, 3, 4, 4.5],
        crotchets: 6,
        times: 2,
        metre: metre(3, 4),
        from: 5,
        by: 0.6,
      },
    ],
    ['hardly longer', { ...LAST_BEAT, by: 0.45 }],
    [
      'of 3/4, inside the idea',
      {
        ...LAST_BEAT,
        idea: [0, 1, 2, 2.5, 3, 4, 4.5],
        crotchets: 6,
        metre: metre(3, 4),
        tempo: 100,
        from: 2,
      },
    ],
    [
      'of 3/4, before the second of three playings',
      { ...LAST_BEAT, idea: [0, 1, 2, 2.5, 3, 4, 4.5], crotchets: 6, times: 3, metre: metre(3, 4), from: 5 },
    ],
  ];
  it.each(cases)('%s is one long beat, for two of three hands at least', (_, w) => {
    const right = [1, 2, 3].filter(seed => {
      const { take, at } = waiting(w, seed);
      const [page] = readTake(take);
      const first = places(page)[0] ?? 0;
      return (
        places(page).every((x, i) => x - first === at[i]) &&
        showMetre(page?.metre ?? metre(2, 2)) === showMetre(w.metre) &&
        // The tempo is that of the other beats.
        Math.abs((page?.tempo ?? 0) / w.tempo - 1) < 0.06
      );
    });
    expect(right.length).toBeGreaterThanOrEqual(2);
  });

  it('hides no idea of three crotchets: no bar is of four', () => {
    const three = { ...LAST_BEAT, idea: [0, 1, 1.5, 2, 2.5], crotchets: 3, times: 3, from: 5 };
    const bars = [1, 2, 3].map(seed => readTake(waiting(three, seed).take)[0]?.metre ?? metre(4, 4));
    expect(bars.map(m => m.upper / m.lower)).toEqual([0.75, 0.75, 0.75]);
  });

  it('is not heard where nobody waited', () => {
    for (const seed of [1, 2, 3]) {
      const { take, at } = waiting({ ...LAST_BEAT, by: 0 }, seed);
      const [page] = readTake(take);
      expect(places(page).map(x => x - (places(page)[0] ?? 0))).toEqual(at);
      const beats = page?.beats ?? [];
      const lengths = beats.slice(1).map((b, k) => b - (beats[k] ?? b));
      expect(Math.max(...lengths)).toBeLessThan(1.4 * Math.min(...lengths));
    }
  });
});

describe('beats fitted about a held one', () => {
  // Eight beats of half a second, the fourth of them 0.9 s.
  const beats = [0, 0.5, 1, 1.5, 2.4, 2.9, 3.4, 3.9, 4.4];
  const fit = (held: readonly number[]): readonly number[] =>
    Array.from(
      fitBeats(
        Float64Array.from(beats, (_, k) => k),
        Float64Array.from(beats),
        0.02,
        0.01,
        0.5,
        held,
      ).beats,
    );

  it('keep their length before and after it', () => {
    fit([3])
      .slice(0, beats.length)
      .forEach((b, k) => {
        expect(Math.abs(b - (beats[k] ?? 0))).toBeLessThan(0.005);
      });
    expect(Math.abs((fit([])[3] ?? 0) - 1.5)).toBeGreaterThan(0.02);
  });

  it('cost less so than if the tempo had changed, but not where no beat is longer', () => {
    const cost = (at: readonly number[], held: readonly number[]): number => {
      const { beats: fitted, cost: own } = fitBeats(
        Float64Array.from(at, (_, k) => k),
        Float64Array.from(at),
        0.02,
        0.01,
        0.5,
        held,
      );
      return own + at.reduce((sum, t, k) => sum + 0.5 * ((t - (fitted[k] ?? t)) / 0.02) ** 2, 0);
    };
    expect(cost(beats, [3])).toBeLessThan(cost(beats, []));
    const even = beats.map((_, k) => 0.5 * k);
    expect(cost(even, [3])).toBeGreaterThan(cost(even, []));
  });
});

describe('a wait', () => {
  it('has a price, however well it fits', () => {
    const at = Float64Array.from({ length: 12 }, (_, k) => 0.6 * k);
    const written = {
      ticks: Int32Array.from(at, (_, k) => 48 * k),
      beat: 48,
      swingHalf: 0.5,
      spread: 0.026,
      parts: 2,
    } as const;
    const costOf = (held: readonly number[]): number => beatTimesOf({ ...written, held }, at, 0.6).cost;
    expect(costOf([5])).toBeGreaterThan(costOf([]) + 8);
  });
});

describe('the tempo of beats', () => {
  it('is that of those in which nobody waited', () => {
    expect(steadyBeat([0, 0.5, 1, 2.2, 2.7])).toBeCloseTo(0.5, 9);
    expect(steadyBeat([0, 0.5, 1.1, 1.6])).toBeCloseTo(1.6 / 3, 9);
    expect(steadyBeat([0, 0.7])).toBeCloseTo(0.7, 9);
  });
});
