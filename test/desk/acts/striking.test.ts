import { describe, expect, it } from 'vitest';
import { show } from '../../../core/foundation/fraction.ts';
import { failed } from '../../../core/foundation/result.ts';
import type { Take } from '../../../core/take/take.ts';
import { createStriking } from '../../../renderer/desk/acts/striking.ts';
import { setMallet, setPlay } from '../../../renderer/desk/commands/settings.ts';
import { deskWithReader } from '../fixtures.ts';
import { COMMON_TIME, fakeSound } from './fakeSound.ts';

const BY = { id: 'pad-1', name: 'Pad 25', source: 'midi' } as const;
const made = () => {
  const test = deskWithReader();
  const fake = fakeSound();
  const struck: string[] = [];
  const caught: (readonly [Take, number])[] = [];
  const striking = createStriking(
    fake.sound,
    test.desk,
    test.asking,
    s => {
      fake.order.push(`told ${String(s.pitch)}`);
    },
    undefined,
    (...given) => caught.push(given),
  );
  striking.onStruck = pitch => {
    fake.order.push(`bar ${String(pitch)}`);
    struck.push(String(test.desk.memory.value.strikes.length));
  };
  return { ...test, ...fake, striking, struck, caught };
};
const now = (): number => performance.now() / 1000;

describe('striking', () => {
  it('sounds, moves the tone bar and remembers, in that order, at the pitch that sounds', () => {
    const { striking, order, struck, desk } = made();
    // A xylophone sounds an octave above what is written (common practice).
    striking.strike({ at: now(), pitch: 72, velocity: 90, by: BY });
    expect(order).toEqual(['strike xylophone 84', 'bar 72', 'told 72']);
    expect(struck).toEqual(['0']);
    expect(desk.memory.value.strikes.map(s => [s.pitch, s.device, s.name, s.source])).toEqual([
      [72, 'pad-1', 'Pad 25', 'midi'],
    ]);
  });

  it('the same tone bar struck again damps its first stroke; another does not', () => {
    const { striking, order, desk } = made();
    desk.run(setPlay, { instrument: 'marimba' });
    for (const pitch of [72, 74, 72]) striking.strike({ at: now(), pitch, velocity: 90, by: BY });
    expect(order.filter(o => !o.startsWith('told') && !o.startsWith('bar'))).toEqual([
      'strike marimba 72',
      'strike marimba 74',
      'damp 72',
      'strike marimba 72',
    ]);
    striking.release({ at: now(), pitch: 74, by: BY });
    striking.gone('pad-1');
    expect(desk.memory.value.strikes.map(s => s.held)).toEqual([false, false, false]);
  });
});

it('strikes with the mallets chosen for the instrument, and a caught idea is struck with them, too', async () => {
  const { striking, struckWith, desk, settled } = made();
  desk.run(setPlay, { instrument: 'glockenspiel' });
  desk.run(setMallet, 'brass');
  const at = now();
  striking.strike({ at, pitch: 72, velocity: 90, by: BY });
  expect(struckWith()).toBe('brass');
  // Brass is no choice for wood, and comes back with the glockenspiel.
  desk.run(setPlay, { instrument: 'xylophone' });
  desk.run(setMallet, 'brass');
  striking.strike({ at: at + 0.1, pitch: 74, velocity: 90, by: BY });
  expect(struckWith()).toBeUndefined();
  desk.run(setPlay, { instrument: 'glockenspiel' });
  striking.strike({ at: at + 0.2, pitch: 76, velocity: 90, by: BY });
  expect(struckWith()).toBe('brass');
  striking.catchThat();
  await settled();
  expect(desk.piece.value?.mallet).toBe('brass');
  expect(desk.plan.value?.parts[0]?.mallet).toBe('brass');
});

it('whose take lies on the desk is told, with where its clock is 0 on that of input', async () => {
  const { striking, desk, settled, caught } = made();
  striking.catchThat();
  await settled();
  expect(caught).toEqual([]);
  const at = now() - 3;
  for (const i of [0, 1, 2]) striking.strike({ at: at + i / 2, pitch: 72 + i, velocity: 90, by: BY });
  striking.catchThat();
  await settled();
  await Promise.resolve();
  const [[take, zero] = []] = caught;
  expect(take).toBe(desk.piece.value?.take);
  take?.strikes.forEach((strike, i) => {
    expect((zero ?? NaN) + strike.at).toBeCloseTo(at + i / 2, 9);
  });
  expect(caught).toHaveLength(1);
});

describe('the click', () => {
  it('runs as chosen, shows its beats, and stops when asked', async () => {
    const { striking, desk, clicks } = made();
    desk.run(setPlay, { bpm: 80, countInBars: 2 });
    striking.toggleClick();
    await Promise.resolve();
    expect(clicks[0]?.options).toMatchObject({ metre: COMMON_TIME, bpm: 80, countInBars: 2 });
    clicks[0]?.options.onBeat?.(-1, 3);
    expect([desk.clickRunning.value, desk.beat.value]).toEqual([true, { beat: -1, inBar: 3 }]);
    striking.toggleClick();
    expect([desk.clickRunning.value, desk.beat.value, clicks[0]?.isStopped]).toEqual([
      false,
      undefined,
      true,
    ]);
  });

  it('that cannot sound is said', async () => {
    const { striking, desk, hold, begin, clicks } = made();
    hold();
    striking.toggleClick();
    const problem = { kind: 'no-sound', what: 'No sound.', kept: '', next: '' } as const;
    begin(failed(problem));
    await Promise.resolve();
    await Promise.resolve();
    expect([desk.problem.value, desk.clickRunning.value, clicks]).toEqual([problem, false, []]);
  });
});

describe('catching', () => {
  it('keeps the phrase with the click it was struck to, less what the device is late, and stops the click', async () => {
    const { striking, desk, settled, clicks } = made();
    striking.toggleClick();
    await Promise.resolve();
    const start = now() - 10;
    if (clicks[0] !== undefined) clicks[0].beats = [0, 1, 2, 3, 4].map(i => start + i * 0.5);
    for (let i = 0; i < 4; i++) striking.strike({ at: start + i * 0.5, pitch: 72 + i, velocity: 90, by: BY });
    striking.catchThat();
    expect([desk.clickRunning.value, clicks[0]?.isStopped]).toEqual([false, true]);
    await settled();
    const piece = desk.piece.value;
    expect([piece?.take.strikes.length, piece?.take.click?.beats.length, piece?.title]).toEqual([
      4,
      5,
      'Idea',
    ]);
    expect([desk.notice.value, desk.view.value]).toEqual(['Caught.', 'write']);
    expect(piece?.reading.notes.map(n => show(n.onset))).toEqual(['0', '1/4', '1/2', '3/4']);
  });

  it('nothing to catch is said, and the click goes on', async () => {
    const { striking, desk, clicks } = made();
    striking.toggleClick();
    await Promise.resolve();
    striking.catchThat();
    expect([desk.problem.value?.kind, desk.clickRunning.value, clicks[0]?.isStopped]).toEqual([
      'no-notes',
      true,
      false,
    ]);
    expect(desk.piece.value).toBeUndefined();
  });
});
