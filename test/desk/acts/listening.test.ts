import { describe, expect, it } from 'vitest';
import { failed } from '../../../core/foundation/result.ts';
import {
  hearBoth,
  hearChosen,
  hearPage,
  hearProjected,
  hearStatement,
  hearTake,
} from '../../../renderer/desk/acts/comparing.ts';
import { watchLeaving } from '../../../renderer/desk/acts/leaving.ts';
import { createListening } from '../../../renderer/desk/acts/listening.ts';
import { createTapping } from '../../../renderer/desk/acts/tapping.ts';
import { goTo, setHearing, togglePart } from '../../../renderer/desk/commands/settings.ts';
import { growNow, tryStep } from '../../../renderer/desk/commands/trial.ts';
import { deskWithPiece } from '../fixtures.ts';
import { fakeSound } from './fakeSound.ts';

const made = async () => {
  const { desk, asking, settled } = await deskWithPiece();
  const fake = fakeSound();
  const listening = createListening(fake.sound, desk);
  return { desk, asking, settled, listening, ...fake };
};
const tick = (): Promise<void> => Promise.resolve();

describe('listening', () => {
  it('what was stopped before the sound started is never heard', async () => {
    const { desk, listening, played, hold, begin } = await made();
    hold();
    hearPage(desk, listening);
    expect(desk.hearing.value?.what).toBe('page');
    listening.stop();
    expect(desk.hearing.value).toBeUndefined();
    begin();
    await tick();
    await tick();
    expect(played).toEqual([]);
  });

  it('of two that were asked for while the sound started, the second is heard', async () => {
    const { desk, listening, played, hold, begin } = await made();
    hold();
    hearPage(desk, listening);
    hearTake(desk, listening);
    begin();
    await tick();
    await tick();
    expect([played.length, desk.hearing.value?.what]).toEqual([1, 'take']);
  });

  it('one at a time; at the end nothing is heard and the cursor is gone', async () => {
    const { desk, listening, played } = await made();
    hearPage(desk, listening);
    await tick();
    played[0]?.options.onPosition?.(0.25);
    expect(desk.cursor.value).toBeCloseTo(0.125, 6);
    hearTake(desk, listening);
    await tick();
    expect([played[0]?.isStopped, played[1]?.isStopped, desk.hearing.value?.what]).toEqual([
      true,
      false,
      'take',
    ]);
    played[1]?.options.onEnd?.();
    expect([desk.hearing.value, desk.cursor.value]).toEqual([undefined, undefined]);
  });

  it('no sound is said in a sentence', async () => {
    const { desk, listening, hold, begin } = await made();
    hold();
    hearPage(desk, listening);
    const problem = { kind: 'no-sound', what: 'No sound.', kept: '', next: '' } as const;
    begin(failed(problem));
    await tick();
    await tick();
    expect([desk.problem.value, desk.hearing.value]).toEqual([problem, undefined]);
  });

  it('speed, one bar over and over, and the click are as chosen', async () => {
    const { desk, listening, played } = await made();
    desk.run(setHearing, { speed: 50, bar: 1, click: true });
    hearPage(desk, listening);
    hearTake(desk, listening);
    hearBoth(desk, listening);
    await tick();
    await tick();
    const [heard] = played.slice(-1);
    expect(heard?.options.rate).toBe(0.5);
    // A bar of 4/4 at 120 lasts two seconds.
    expect(heard?.options.loop).toEqual({ from: 0, to: 2 });
    expect(heard?.options.click?.beats.length).toBeGreaterThan(3);
  });

  it('the take and the page at once are all strokes of both', async () => {
    const { desk, listening, played } = await made();
    hearTake(desk, listening);
    await tick();
    hearBoth(desk, listening);
    await tick();
    const count = (i: number): number => played[i]?.performance.events.length ?? 0;
    expect([count(0), count(1)]).toEqual([4, 8]);
    played[1]?.options.onPosition?.(1);
    expect(desk.cursor.value).toBeCloseTo(0.5, 6);
  });

  it('Hear in Write plays what is chosen: the page, the take, or both', async () => {
    const { desk, listening, played } = await made();
    for (const what of ['take', 'page', 'both'] as const) {
      desk.run(setHearing, { what });
      hearChosen(desk, listening);
      await tick();
      expect(desk.hearing.value?.what).toBe(what);
    }
    expect(played.map(one => one.performance.events.length)).toEqual([4, 4, 8]);
  });

  it('what is projected is counted in: the cursor comes from a bar before, at an even pace', async () => {
    const { desk, listening, played } = await made();
    hearProjected(desk, listening);
    await tick();
    const [heard] = played;
    // A bar of 4/4 at 120.
    expect(heard?.options.click?.beats).toEqual([0, 0.5, 1, 1.5]);
    expect(heard?.performance.events[0]?.seconds).toBeCloseTo(2, 6);
    expect(desk.hearing.value).toMatchObject({ what: 'page', startsAt: 0 });
    const cursorAt = (seconds: number): number => {
      heard?.options.onPosition?.(seconds);
      return desk.cursor.value ?? NaN;
    };
    expect([0, 0.5, 1, 1.5, 2, 2.5].map(cursorAt)).toEqual([-1, -0.75, -0.5, -0.25, 0, 0.25]);
    desk.run(goTo, 'grow');
    hearProjected(desk, listening, 0.5);
    await tick();
    expect(desk.hearing.value).toMatchObject({ what: 'piece', startsAt: 0.5 });
    // Two beats into the bar: they are counted too.
    expect(played[1]?.options.click?.beats).toHaveLength(6);
    expect(played[1]?.performance.events[0]?.seconds).toBeCloseTo(3, 6);
    played[1]?.options.onPosition?.(3.5);
    expect(desk.cursor.value).toBeCloseTo(0.75, 6);
  });

  it('a part that is silent is silent from the first stroke, and comes back while it plays', async () => {
    const { desk, listening, played } = await made();
    desk.run(growNow, 'twice', { kind: 'repeat', statement: 's1', times: 2 });
    desk.run(togglePart, 'mutedParts', 'p1');
    hearStatement(desk, listening, 's1', 0.5);
    await tick();
    expect([played[0]?.muted, played[0]?.options.from]).toEqual([['p1'], 1]);
    desk.run(togglePart, 'mutedParts', 'p1');
    expect(played[0]?.muted).toEqual([]);
    listening.dispose();
    expect([played[0]?.isStopped, desk.hearing.value]).toEqual([true, undefined]);
    desk.run(togglePart, 'mutedParts', 'p1');
    expect(played[0]?.muted).toEqual([]);
  });
});

describe('tapping', () => {
  it('taps on the replay, made up for speed and delay, become the beat', async () => {
    const { desk, asking, settled, listening, played } = await made();
    const tapping = createTapping(desk, asking, listening);
    tapping.begin(0.5);
    await tick();
    const [replay] = played;
    if (replay === undefined) throw new Error('no replay');
    expect([replay.options.rate, desk.taps.value]).toEqual([0.5, []]);
    for (const at of [0, 0.5, 1, 1.5]) {
      replay.position = at + 0.01;
      tapping.tap(0.02);
    }
    expect(desk.taps.value?.map(t => Number(t.toFixed(3)))).toEqual([0, 0.5, 1, 1.5]);
    tapping.finish();
    await settled();
    expect([desk.taps.value, replay.isStopped, desk.piece.value?.hints.taps?.length]).toEqual([
      undefined,
      true,
      4,
    ]);
    expect(desk.history.value?.past.at(-1)?.name).toBe('tap the beat');
  });

  it('too few are said and change nothing; nobody taps where nothing replays', async () => {
    const { desk, asking, listening } = await made();
    const tapping = createTapping(desk, asking, listening);
    tapping.tap(0);
    tapping.finish();
    expect([desk.taps.value, desk.problem.value]).toEqual([undefined, undefined]);
    tapping.begin(1);
    await tick();
    tapping.tap(0);
    tapping.finish();
    expect(desk.problem.value?.what).toBe('That was one tap; the beat shows from 4 on.');
    expect(desk.piece.value?.hints.taps).toBeUndefined();
  });

  it('the end of the replay is the end of the taps', async () => {
    const { desk, asking, settled, listening, played } = await made();
    const tapping = createTapping(desk, asking, listening);
    tapping.begin(1);
    await tick();
    for (const at of [0, 0.5, 1, 1.5]) {
      if (played[0] !== undefined) played[0].position = at;
      tapping.tap(0);
    }
    played[0]?.options.onEnd?.();
    await settled();
    expect(desk.piece.value?.hints.taps?.length).toBe(4);
  });
});

describe('leaving', () => {
  it('stops what sounds, is tapped or tried; choosing the same view again does not', async () => {
    const { desk, asking, listening, played } = await made();
    const tapping = createTapping(desk, asking, listening);
    const end = watchLeaving(desk, listening, tapping);
    desk.run(goTo, 'write');
    tapping.begin(1);
    await tick();
    desk.run(tryStep, 'twice', { kind: 'repeat', statement: 's1', times: 2 });
    desk.run(goTo, 'write');
    expect([played[0]?.isStopped, desk.trial.value?.name]).toEqual([false, 'twice']);
    desk.run(goTo, 'play');
    expect([played[0]?.isStopped, desk.trial.value, desk.taps.value]).toEqual([true, undefined, undefined]);
    end();
  });
});
