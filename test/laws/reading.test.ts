import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metre, showMetre } from '../../core/foundation/metre.ts';
import { readTake } from '../../core/reading/read.ts';
import { beatsFromTaps } from '../../core/reading/knownBeat/taps.ts';
import { place, played, places } from '../takes/written.ts';

/** Quavers and semiquavers of two bars, always with the first beat so that there is something to hold on to. */
const rhythm = fc
  .uniqueArray(fc.integer({ min: 1, max: 31 }), { minLength: 4, maxLength: 18 })
  .map(slots => [0, ...slots.sort((a, b) => a - b)].map(s => s / 4));
const RUNS = { numRuns: 40, seed: 20261125 };

describe('laws of reading to a click', () => {
  it('a take exactly on the grid is read as it stands, with no misfit', () => {
    fc.assert(
      fc.property(rhythm, at => {
        const [r] = readTake(played({ at, tempo: 84 }), { grid: 'quarter', swingTolerance: 'none' });
        expect(places(r)).toEqual(at);
        expect(r?.misfit).toBeLessThan(1e-6);
      }),
      RUNS,
    );
  });

  it('the same take later is the same reading', () => {
    fc.assert(
      fc.property(rhythm, fc.double({ min: 0, max: 5000, noNaN: true }), (at, later) => {
        const take = played({ at, off: [14, -11, 8, -17] });
        const moved = {
          ...take,
          strikes: take.strikes.map(s => ({ ...s, at: s.at + later })),
          click: { metre: metre(4, 4), beats: (take.click?.beats ?? []).map(b => b + later) },
        };
        expect(places(readTake(moved)[0])).toEqual(places(readTake(take)[0]));
      }),
      RUNS,
    );
  });

  it('a gridded take at another tempo is the same reading', () => {
    fc.assert(
      fc.property(rhythm, fc.integer({ min: 60, max: 110 }), (at, tempo) => {
        const hints = { grid: 'quarter', swingTolerance: 'none' } as const;
        const [r] = readTake(played({ at, tempo }), hints);
        expect(places(r)).toEqual(at);
        expect(r?.tempo).toBeCloseTo(tempo, 6);
      }),
      RUNS,
    );
  });

  it('a pinned note never moves, in any reading', () => {
    fc.assert(
      fc.property(rhythm, fc.nat(), fc.integer({ min: -3, max: 3 }), (at, which, by) => {
        const strike = which % at.length;
        const onset = place((at[strike] ?? 0) + by / 4);
        const readings = readTake(played({ at, off: [9, -12, 4] }), { pins: [{ strike, onset }] });
        expect(readings.length).toBeGreaterThan(0);
        for (const r of readings) expect(r.notes.find(n => n.strike === strike)?.onset).toEqual(onset);
      }),
      RUNS,
    );
  });

  it('every strike is written once, in order, at most five ways, and no way twice', () => {
    fc.assert(
      fc.property(rhythm, fc.boolean(), (at, click) => {
        const readings = readTake(played({ at, off: [19, -22, 8, -17, 3], click }));
        expect(readings.length).toBeGreaterThan(0);
        expect(readings.length).toBeLessThanOrEqual(5);
        expect(new Set(readings.map(r => [showMetre(r.metre), ...places(r)].join())).size).toBe(
          readings.length,
        );
        for (const r of readings) {
          expect(r.notes.map(n => n.strike)).toEqual(at.map((_, i) => i));
          expect(r.notes.every(n => n.duration.n > 0 && n.doubt >= 0 && n.doubt <= 1)).toBe(true);
          expect(places(r)).toEqual([...places(r)].sort((a, b) => a - b));
        }
      }),
      RUNS,
    );
  });

  it('an agreeing repeat never makes the reader less sure', () => {
    fc.assert(
      fc.property(rhythm, at => {
        const pitch = at.map((_, i) => 60 + ((i * 7) % 12));
        const off = at.map((_, i) => [21, -18, 9, -25, 13][i % 5] ?? 0);
        const once = readTake(played({ at, pitch, off }))[0];
        const twice = readTake(played({ at: [...at, ...at.map(x => x + 8)], pitch, off }))[0];
        expect(twice?.confidence ?? 0).toBeGreaterThanOrEqual((once?.confidence ?? 0) - 0.02);
      }),
      RUNS,
    );
  });

  it('a further agreeing playing never makes it less sure, up to four', () => {
    fc.assert(
      fc.property(rhythm, at => {
        const pitch = at.map((_, i) => 60 + ((i * 7) % 12));
        const off = at.map((_, i) => [21, -18, 9, -25, 13][i % 5] ?? 0);
        let before = 0;
        for (let times = 1; times <= 4; times++) {
          const all = Array.from({ length: times }, (_, k) => at.map(x => x + 8 * k)).flat();
          const [r] = readTake(played({ at: all, pitch, off }));
          const agrees = places(r).join() === all.join();
          if (times > 1 && agrees) expect(r?.confidence ?? 0).toBeGreaterThanOrEqual(before - 0.01);
          before = agrees ? (r?.confidence ?? 0) : 0;
        }
      }),
      RUNS,
    );
  });

  it('is the same every time', () => {
    const take = played({ at: [0, 0.75, 1.5, 2.5, 3], off: [20, -30, 10], click: false });
    expect(readTake(take)).toEqual(readTake(take));
  });
});

describe('laws of reading without a click', () => {
  const FEW = { numRuns: 12, seed: 20261125 };
  const OFF = [14, -11, 8, -17, 5];

  it('the same take later is the same reading', () => {
    fc.assert(
      fc.property(rhythm, fc.double({ min: 0, max: 5000, noNaN: true }), (at, later) => {
        const take = played({ at, off: OFF, click: false });
        const moved = { ...take, strikes: take.strikes.map(s => ({ ...s, at: s.at + later })) };
        expect(places(readTake(moved)[0])).toEqual(places(readTake(take)[0]));
      }),
      FEW,
    );
  });

  it('the same take higher or lower, or louder, is the same reading', () => {
    fc.assert(
      fc.property(rhythm, fc.integer({ min: -12, max: 12 }), (at, by) => {
        const take = played({ at, off: OFF, click: false });
        const other = {
          ...take,
          strikes: take.strikes.map(s => ({ ...s, pitch: s.pitch + by, velocity: s.velocity + by })),
        };
        expect(places(readTake(other)[0])).toEqual(places(readTake(take)[0]));
      }),
      FEW,
    );
  });

  it('a pinned note never moves, in any reading', () => {
    fc.assert(
      fc.property(rhythm, fc.nat(), fc.integer({ min: -2, max: 2 }), (at, which, by) => {
        const strike = which % at.length;
        const onset = place((at[strike] ?? 0) + by / 4);
        const readings = readTake(played({ at, off: OFF, click: false }), { pins: [{ strike, onset }] });
        expect(readings.length).toBeGreaterThan(0);
        for (const r of readings) expect(r.notes.find(n => n.strike === strike)?.onset).toEqual(onset);
      }),
      FEW,
    );
  });

  it('every doubtful note says where else it may belong, never past its neighbours', () => {
    fc.assert(
      fc.property(rhythm, fc.boolean(), (at, click) => {
        for (const r of readTake(played({ at, off: [24, -31, 18, -27, 9], click }))) {
          r.notes.forEach((note, i) => {
            if (note.doubt > 0.1) expect(note.elsewhere?.length ?? 0).toBeGreaterThan(0);
            for (const other of note.elsewhere ?? []) {
              const at = other.n / other.d;
              const of = (n: { readonly onset: { readonly n: number; readonly d: number } }): number =>
                n.onset.n / n.onset.d;
              expect(at).not.toBe(of(note));
              if (i > 0) expect(at).toBeGreaterThanOrEqual(of(r.notes[i - 1] ?? note));
              if (i + 1 < r.notes.length) expect(at).toBeLessThanOrEqual(of(r.notes[i + 1] ?? note));
            }
          });
        }
      }),
      FEW,
    );
  });
});

describe('tapped beats', () => {
  it('survive a missed and a doubled tap', () => {
    const even = [0, 0.6, 1.2, 1.8, 2.4, 3, 3.6, 4.2];
    const untidy = [...even.filter(t => t !== 1.8), 2.52].sort((a, b) => a - b);
    const beats = beatsFromTaps(untidy);
    expect(beats).toHaveLength(even.length);
    beats.forEach((b, i) => expect(Math.abs(b - (even[i] ?? 0))).toBeLessThan(0.05));
  });

  it('become the beat of the reading', () => {
    const at = [0, 1, 1.5, 2, 3, 4, 5, 5.5, 6, 7];
    const take = played({ at, click: false, tempo: 100, off: [15, -15, 10] });
    const taps = Array.from({ length: 9 }, (_, i) => 2 + i * 0.6 + (i % 2 === 0 ? 0.02 : -0.015));
    const [r] = readTake(take, { taps });
    const first = places(r)[0] ?? 0;
    expect(places(r).map(x => x - first)).toEqual(at);
    expect(r?.tempo).toBeGreaterThan(95);
    expect(r?.tempo).toBeLessThan(105);
  });
});

describe('whatever is struck', () => {
  it('is written: rolls, lone strikes, strikes far apart, a grid too coarse', () => {
    const odd = [[0], [0, 40, 90], Array.from({ length: 60 }, (_, i) => i / 12)];
    for (const at of odd) {
      for (const click of [true, false]) {
        for (const grid of ['automatic', 'beat'] as const) {
          const [r] = readTake(played({ at, click }), { grid });
          expect((r?.notes.length ?? 0) + (r?.dropped.length ?? 0)).toBe(at.length);
          expect(r?.notes.every(n => n.duration.n > 0)).toBe(true);
        }
      }
    }
  });

  it('is read bar by bar as it is read whole, when it lies on the grid', () => {
    fc.assert(
      fc.property(rhythm, at => {
        const hints = { grid: 'quarter', swingTolerance: 'none' } as const;
        const whole = places(readTake(played({ at, tempo: 84 }), hints)[0]);
        const bars = [at.filter(x => x < 4), at.filter(x => x >= 4)].filter(bar => bar.length > 0);
        const parts = bars.flatMap(bar => places(readTake(played({ at: bar, tempo: 84 }), hints)[0]));
        expect(parts).toEqual(whole);
      }),
      RUNS,
    );
  });
});
