import { describe, expect, it } from 'vitest';
import { pageAfter, withPins, withRepeats } from '../../core/piece/rereading.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import { readTake } from '../../core/reading/read.ts';
import { place } from '../takes/written.ts';
import { type Invented, inventedTakes } from './invented.ts';

/** Strikes the page writes elsewhere than they were meant, counted as most of them stand. */
const wrongIn = (
  reading: Reading,
  at: readonly number[],
  counted: 'as it stands' | 'from most',
): number[] => {
  const stands = new Map(reading.notes.map(n => [n.strike, (4 * n.onset.n) / n.onset.d]));
  const shifts = at.map((x, i) => ((stands.get(i) ?? Number.NaN) - x).toFixed(4));
  const most = [...new Set(shifts)].sort(
    (a, b) => shifts.filter(s => s === b).length - shifts.filter(s => s === a).length,
  )[0];
  const right = counted === 'as it stands' ? (0).toFixed(4) : most;
  return at.map((_, i) => i).filter(i => shifts[i] !== right);
};

/** Whether a take is read right, half and double values forgiven where there was no click. */
const isRight = (reading: Reading | undefined, { take, at }: Invented): boolean => {
  if (reading === undefined) return false;
  if (take.click !== undefined) return wrongIn(reading, at, 'as it stands').length === 0;
  return [1, 2, 0.5].some(
    scale =>
      wrongIn(
        reading,
        at.map(x => x * scale),
        'from most',
      ).length === 0,
  );
};

const firstOf = ({ take }: Invented): Reading | undefined => readTake(take)[0];

/** Corrections until a page to a click is right, one note at a time; 13 where twelve do not do. */
const decisions = (
  invented: Invented,
): { readonly needed: number; readonly spoilt: number; readonly pins: number } => {
  const { take, at } = invented;
  let page = firstOf(invented);
  let hints: Hints = {};
  let spoilt = 0;
  for (let pins = 0; pins < 12; pins++) {
    if (page === undefined) break;
    const wrong = wrongIn(page, at, 'as it stands');
    const [strike] = wrong;
    if (strike === undefined) return { needed: pins, spoilt, pins };
    hints = withPins(
      { take, hints, reading: page },
      withRepeats(page, [{ strike, onset: place(at[strike] ?? 0) }]),
    );
    page = pageAfter(page, true, hints, readTake(take, hints));
    if (page !== undefined)
      spoilt += wrongIn(page, at, 'as it stands').filter(i => !wrong.includes(i)).length;
  }
  return { needed: 13, spoilt, pins: 12 };
};

const TO_A_CLICK = inventedTakes(11, 80, true);
const FREE = inventedTakes(12, 40, false);
const mean = (of: readonly number[]): number => of.reduce((a, b) => a + b, 0) / of.length;

// Thresholds lie a little below what was measured when they were written (given with each): they hold the
// reader where it is, they do not say what a reader should reach. The takes are even and repeat exactly, so
// more of them are right than of what people play, and confidence, which is set on those, is lower than here.
describe('the reader on invented takes', () => {
  it('to a click writes the right rhythm, is as sure as it is right, and is soon put right', () => {
    const all = TO_A_CLICK.map(decisions);
    const right = all.filter(d => d.needed === 0).length;
    expect(right, 'measured: 76').toBeGreaterThanOrEqual(74);
    expect(all.filter(d => d.needed <= 1).length).toBeGreaterThanOrEqual(78);
    expect(all.filter(d => d.needed > 3)).toHaveLength(0);
    expect(all.reduce((sum, d) => sum + d.spoilt, 0)).toBe(0);
    const said = mean(TO_A_CLICK.map(t => firstOf(t)?.confidence ?? 0));
    expect(Math.abs(said - right / all.length), 'measured: 0.004').toBeLessThan(0.05);
  });

  it('without a click writes the right rhythm, and is right where it is sure', () => {
    const read = FREE.map(t => {
      const first = firstOf(t);
      return { said: first?.confidence ?? 0, right: isRight(first, t) };
    });
    expect(read.filter(r => r.right).length, 'measured: 36').toBeGreaterThanOrEqual(34);
    const sure = read.filter(r => r.said > 0.6);
    expect(sure.length, 'measured: 24').toBeGreaterThanOrEqual(20);
    expect(sure.filter(r => !r.right).length, 'measured: 1').toBeLessThanOrEqual(2);
    expect(mean(read.map(r => r.said)), 'measured: 0.61').toBeGreaterThan(0.5);
  });
});
