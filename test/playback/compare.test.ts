import { expect, test } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import {
  clickOfScore,
  clickOnTake,
  performOnTake,
  performTake,
  takeStart,
  together,
} from '../../core/playback/compare.ts';
import { readTake } from '../../core/reading/read.ts';
import { scoreOfReading } from '../../core/score/fromReading.ts';
import { played } from '../takes/written.ts';

const take = {
  ...played({ at: [0, 0.5, 1, 2, 3, 4, 5, 6, 7], off: [20, -15, 8, -12, 30, 5, -20, 10, 0] }),
  latency: 0,
};
const [reading] = readTake(take);
if (reading === undefined) throw new Error('nothing read');
const score = scoreOfReading(reading, key('C'), 'xylophone', '', '');

test('in the take’s time every note of the page sounds where its beat lay, near the strike it was read from', () => {
  const start = takeStart(take, reading);
  const strikes = performTake(take, 'xylophone', start).events;
  const page = performOnTake(score, reading, start).events;
  expect(page).toHaveLength(strikes.length);
  page.forEach((event, i) => {
    expect(Math.abs(event.seconds - (strikes[i]?.seconds ?? NaN))).toBeLessThan(0.04);
    expect(event.pitch).toBe(strikes[i]?.pitch);
  });
  const both = together({ events: strikes, duration: 9 }, { events: page, duration: 3 });
  expect(both.duration).toBe(9);
  // Both in one order of time, and so are two parts of a page.
  const two = performOnTake({ ...score, parts: [...score.parts, ...score.parts] }, reading, start).events;
  for (const events of [both.events, two]) {
    const times = events.map(event => event.seconds);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  }
  // Nothing ends before its last note has rung out.
  for (const { events, duration } of [
    performTake(take, 'xylophone', start),
    performOnTake(score, reading, start),
  ])
    for (const event of events) expect(duration).toBeGreaterThan(event.seconds + event.duration);
});

test('what the device brings late is not heard', () => {
  const late = { ...take, latency: 50, strikes: take.strikes.map(s => ({ ...s, at: s.at + 0.05 })) };
  const at = (t: typeof take): number[] =>
    performTake(t, 'xylophone', takeStart(t, reading)).events.map(e => Math.round(e.seconds * 1000));
  expect(at(late)).toEqual(at(take));
});

test('a click falls on every beat, heavier on the first of each bar, upbeat and unequal beats too', () => {
  const onTake = clickOnTake(reading, takeStart(take, reading));
  expect(onTake.accents.slice(0, 8)).toEqual([true, false, false, false, true, false, false, false]);
  onTake.beats.slice(1).forEach((beat, i) => expect(beat - (onTake.beats[i] ?? 0)).toBeCloseTo(60 / 90, 1));
  const soonerBy = (by: number): number =>
    clickOnTake(reading, takeStart(take, reading) - by).beats[0] ?? NaN;
  expect(soonerBy(2) - soonerBy(0)).toBeCloseTo(2, 9);
  const onPage = clickOfScore({ ...score, tempo: 120 });
  expect(onPage.beats.slice(0, 4)).toEqual([0, 0.5, 1, 1.5]);
  const up = { ...score, metre: metre(3, 4), upbeat: fraction(1, 4), tempo: 60 };
  const withUpbeat = clickOfScore(up);
  expect(withUpbeat.beats.slice(0, 3)).toEqual([0, 1, 2]);
  expect(withUpbeat.accents.slice(0, 5)).toEqual([false, true, false, false, true]);
});
