import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createCalibration, SECONDS } from '../../../renderer/desk/acts/calibration.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';
import { fakeSound } from './fakeSound.ts';

const PAD = { id: 'pad-1', name: 'Pad 25', source: 'midi' } as const;
const KEYS = { id: 'keys', name: 'the keys', source: 'keys' } as const;
/** The click goes at 100: a beat every 0.6 s. */
const beatAt = (i: number): number => 100 + 0.6 * i;

const made = async () => {
  const desk = createDesk();
  const fake = fakeSound();
  const calibration = createCalibration(fake.sound, desk);
  calibration.begin();
  await Promise.resolve();
  const [click] = fake.clicks;
  if (click === undefined) throw new Error('no click');
  click.beats = Array.from({ length: 25 }, (_, i) => beatAt(i));
  return { desk, calibration, click, clicks: fake.clicks };
};

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('lining a device up with the click', () => {
  it('finds how late the device that struck most comes, and takes it off from then on', async () => {
    const { desk, calibration, click } = await made();
    expect([click.options.bpm, desk.measuring.value]).toEqual([100, { strikes: 0, left: SECONDS }]);
    for (let i = 0; i < 20; i++) {
      // A pad that comes 37 ms after the click, with 4 ms of wobble.
      calibration.strike({ at: beatAt(i) + 0.037 + (i % 2 === 0 ? 0.004 : -0.004), by: PAD });
      if (i < 4) calibration.strike({ at: beatAt(i) + 0.2, by: KEYS });
    }
    expect(desk.measuring.value?.strikes).toBe(24);
    await vi.advanceTimersByTimeAsync(SECONDS * 1000);
    expect(Math.abs((desk.lateness.value['Pad 25'] ?? 0) - 37)).toBeLessThanOrEqual(4);
    expect([Object.keys(desk.lateness.value), desk.measured.value?.device]).toEqual([['Pad 25'], 'Pad 25']);
    expect([desk.measuring.value, click.isStopped]).toEqual([undefined, true]);
  });

  it('counts down by the second, and left before the end it finds nothing', async () => {
    const { desk, calibration, click } = await made();
    await vi.advanceTimersByTimeAsync(4000);
    expect(desk.measuring.value?.left).toBe(SECONDS - 4);
    calibration.leave();
    await vi.advanceTimersByTimeAsync(SECONDS * 1000);
    expect([desk.measuring.value, desk.lateness.value, desk.problem.value, click.isStopped]).toEqual([
      undefined,
      {},
      undefined,
      true,
    ]);
    calibration.strike({ at: 0, by: PAD });
    expect(desk.measuring.value).toBeUndefined();
  });

  it('too few strikes are said in a sentence, and nothing is remembered', async () => {
    const { desk, calibration } = await made();
    calibration.strike({ at: beatAt(1), by: PAD });
    await vi.advanceTimersByTimeAsync(SECONDS * 1000);
    expect([desk.lateness.value, desk.problem.value === undefined]).toEqual([{}, false]);
  });

  it('a second time begins from nothing', async () => {
    const { desk, calibration, clicks } = await made();
    for (let i = 0; i < 20; i++) calibration.strike({ at: beatAt(i) + 0.2, by: KEYS });
    calibration.leave();
    calibration.begin();
    await Promise.resolve();
    if (clicks[1] !== undefined) clicks[1].beats = clicks[0]?.beats ?? [];
    for (let i = 0; i < 20; i++) calibration.strike({ at: beatAt(i) - 0.01, by: PAD });
    await vi.advanceTimersByTimeAsync(SECONDS * 1000);
    expect(desk.lateness.value).toEqual({ 'Pad 25': -10 });
  });
});
