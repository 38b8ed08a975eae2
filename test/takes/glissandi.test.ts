import { describe, expect, it } from 'vitest';
import { show, toNumber } from '../../core/foundation/fraction.ts';
import { movedStrikes, pageAfter, withPins } from '../../core/piece/rereading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import type { Strike, Take } from '../../core/take/take.ts';
import { seeded } from '../reading/invented.ts';
import { played } from './written.ts';

/** An uneven player: milliseconds of spread about each place. */
const uneven = (seed: number, spread: number): (() => number) => {
  const next = seeded(seed);
  return () => spread * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
};

const WHITE = [60, 62, 64, 65, 67, 69, 71, 72, 74, 76, 77, 79, 81, 83, 84];

/** A tune of crotchets; on its third and seventh note the mallet is drawn up over so many white bars, so many a second. */
const withLines = (tempo: number, barsASecond: number, seed: number, click: boolean, over = 9): Take => {
  const at = [0, 1, 2, 3, 4, 5, 6, 7];
  const drawn = new Set([2, 6]);
  const off = uneven(seed, 15);
  const take = played({ at, pitch: [67, 72, 60, 69, 76, 74, 60, 65], off: at.map(off), tempo, click });
  const jitter = uneven(seed + 50, 80 / barsASecond);
  const strikes = take.strikes.flatMap((s, i): Strike[] =>
    WHITE.slice(0, drawn.has(i) ? over : 1).map((pitch, k) => ({
      ...s,
      at: s.at + k / barsASecond + (k === 0 ? 0 : jitter() / 1000),
      pitch: k === 0 ? s.pitch : pitch,
      velocity: k === 0 ? 90 : 70,
    })),
  );
  return { ...take, strikes };
};

const pageOf = (take: Take): Reading => {
  const [page] = readTake(take);
  if (page === undefined) throw new Error('nothing was read');
  return page;
};
const written = (page: Reading): string[] =>
  page.notes.map(
    n => `${show(n.onset)}:${show(n.duration)}${n.gliss === undefined ? '' : ` to ${String(n.gliss.to)}`}`,
  );

// 15 to 60 bars a second (common practice, no source).
describe('a glissando is one note with a line', () => {
  it.each([16, 22, 30, 45, 60])('to a click, %d bars a second, as long as it ran', rate => {
    for (const tempo of [66, 80, 96, 106]) {
      const page = pageOf(withLines(tempo, rate, 1, true));
      // Nine bars: a crotchet, or the half of one that is nearer, with a rest after it.
      const beats = (9 / rate) * (tempo / 60);
      const length = beats >= 0.75 ? '1/4' : '1/8';
      expect(written(page)).toEqual([
        '0:1/4',
        '1/4:1/4',
        `1/2:${length} to 74`,
        '3/4:1/4',
        '1:1/4',
        '5/4:1/4',
        `3/2:${length} to 74`,
        '7/4:1/4',
      ]);
    }
  });

  it.each([18, 30, 50])('without a click too, %d bars a second', rate => {
    const page = pageOf(withLines(84, rate, 2, false));
    expect(page.notes.map(n => n.gliss?.to)).toEqual([
      undefined,
      undefined,
      74,
      undefined,
      undefined,
      undefined,
      74,
      undefined,
    ]);
    const gaps = page.notes
      .slice(1)
      .map((n, i) => toNumber(n.onset) - toNumber(page.notes[i]?.onset ?? n.onset));
    expect(new Set(gaps).size).toBe(1);
  });

  it('names every stroke with its bar, and the take stays as it was', () => {
    const take = withLines(96, 25, 3, true);
    const before = JSON.stringify(take);
    const page = pageOf(take);
    const named = page.notes.flatMap(n => n.gliss?.strokes ?? [{ strike: n.strike, pitch: n.pitch }]);
    expect(named).toEqual(take.strikes.map((s, strike) => ({ strike, pitch: s.pitch })));
    expect(JSON.stringify(take)).toBe(before);
  });

  it('leads to a note of its own that falls on a beat, or is struck louder', () => {
    // Drawn for a whole beat at 90: nine bars to the next beat.
    for (const click of [true, false])
      for (const last of [70, 100]) {
        const gap = 60 / 90 / 14;
        const take = played({ at: [0, 1, 3, 4, 5, 7], pitch: [67, 60, 64, 67, 60, 64], tempo: 90, click });
        const strikes = take.strikes.flatMap((s, i) =>
          i % 3 !== 1
            ? [s]
            : WHITE.map((pitch, k) => ({ at: s.at + k * gap, pitch, velocity: k === 14 ? last : 70 })),
        );
        const page = pageOf({ ...take, strikes });
        const scale = click
          ? 1
          : toNumber(page.notes[1]?.onset ?? page.notes[0]?.onset ?? { n: 1, d: 4 }) * 4;
        expect(page.notes.map(n => [(toNumber(n.onset) * 4) / scale, n.pitch, n.gliss?.to])).toEqual([
          [0, 67, undefined],
          [1, 60, 84],
          [2, 84, undefined],
          [3, 64, undefined],
          [4, 67, undefined],
          [5, 60, 84],
          [6, 84, undefined],
          [7, 64, undefined],
        ]);
        // Up to the head it leads to.
        expect(page.notes[1]?.duration).toEqual(page.notes[0]?.duration);
        expect(page.notes[1]?.gliss?.strokes).toHaveLength(14);
      }
  });

  it('over a set of five bars to the octave, and over both rows, downwards', () => {
    for (const bars of [
      [84, 81, 79, 76, 74, 72, 69, 67],
      [72, 71, 70, 69, 68, 67, 66, 65],
    ]) {
      const take = played({ at: [0, 1, 2, 3, 4], pitch: [60, 62, bars[0] ?? 0, 64, 65], tempo: 96 });
      const strikes = take.strikes.flatMap((s, i) =>
        i !== 2 ? [s] : bars.map((pitch, k) => ({ at: s.at + k * 0.03, pitch, velocity: 70 })),
      );
      expect(pageOf({ ...take, strikes }).notes[2]?.gliss?.strokes.map(s => s.pitch)).toEqual(bars);
    }
  });

  it('stays one when another note is put elsewhere, and back', () => {
    for (const click of [true, false]) {
      const take = withLines(96, 25, 5, click);
      const page = pageOf(take);
      const last = page.notes.at(-1);
      if (last === undefined) throw new Error('no last note');
      const onset = { ...last.onset, n: last.onset.n + last.onset.d };
      const hints = withPins({ take, hints: {}, reading: page }, [{ strike: last.strike, onset }]);
      const after = pageAfter(page, true, hints, readTake(take, hints));
      expect(after && movedStrikes(page, after)).toEqual([last.strike]);
      expect(after?.notes.flatMap(n => n.gliss ?? [])).toEqual(page.notes.flatMap(n => n.gliss ?? []));
      const back = withPins({ take, hints, reading: page }, [{ strike: last.strike, onset: last.onset }]);
      expect(
        pageAfter(page, true, back, readTake(take, back))?.notes.map(n => [n.strike, n.onset, n.gliss]),
      ).toEqual(page.notes.map(n => [n.strike, n.onset, n.gliss]));
    }
  });
});

// Scales in time are struck with two mallets, down to some 20 notes a second of the very best (common practice, no source).
describe('quick scales in time stay notes', () => {
  it.each([60, 76, 96, 112, 126, 138])('demisemiquavers to a click at crotchet = %d', tempo => {
    for (const seed of [1, 2, 3]) {
      const scale = Array.from({ length: 8 }, (_, i) => 2 + i / 8);
      const at = [0, 1, ...scale, 3, 4, 5, 6, 7];
      const off = uneven(seed, 5);
      const pitch = [67, 64, 60, 62, 64, 65, 67, 69, 71, 72, 74, 67, 65, 64, 62];
      const page = pageOf(played({ at, pitch, off: at.map(off), tempo }));
      expect(page.notes.every(n => n.gliss === undefined)).toBe(true);
      expect(page.notes.map(n => toNumber(n.onset) * 4)).toEqual(at);
    }
  });
});
