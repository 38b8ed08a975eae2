import { describe, expect, it } from 'vitest';
import { failed } from '../../../core/foundation/result.ts';
import { keepLearnt, setLearning } from '../../../renderer/desk/commands/learning.ts';
import { choosePhrase, phrasesIn, setHeard } from '../../../renderer/desk/commands/playing.ts';
import { choosePupil } from '../../../renderer/desk/commands/pupils.ts';
import { setPlay } from '../../../renderer/desk/commands/settings.ts';
import { createOwnSound } from '../../../renderer/desk/acts/ownSound.ts';
import { microphoneGone, microphoneProblemOf } from '../../../renderer/hearing/microphoneProblems.ts';
import { made, nextTurn, now } from './fakeRoom.ts';

describe('the bars in the room', () => {
  it('are asked for only when they are chosen, and named once the browser gave them', async () => {
    const { desk, room, opened, announced } = made();
    expect([desk.roomEar.value, opened.length]).toEqual([undefined, 0]);
    room.listen({ hears: 'bars', through: 'headphones' });
    expect(desk.roomEar.value).toMatchObject({
      hears: 'bars',
      through: 'headphones',
      name: undefined,
      sound: undefined,
    });
    opened[0]?.answer();
    await nextTurn();
    expect(desk.roomEar.value?.name).toBe('Desk microphone');
    expect(announced).toEqual(['here']);
    opened[0]?.tells.onState({ level: -12, trouble: 'noisy' });
    expect(desk.roomEar.value?.sound).toEqual({ level: -12, trouble: 'noisy' });
  });

  it('move at once, are remembered as written with the time of the blow, and sound from no loudspeaker', async () => {
    const { desk, order, listen } = made();
    const { tells } = await listen('loudspeaker');
    const at = now() - 0.8;
    tells.onAtOnce({ at, sounding: 84, pitch: 84, velocity: 90 });
    expect([order, desk.memory.value.strikes]).toEqual([['bar 72'], []]);
    tells.onStruck({ at, sounding: 84, pitch: 84, velocity: 90, nextBest: 85, perhapsNone: true });
    expect(order).toEqual(['bar 72']);
    expect(desk.memory.value.strikes).toEqual([
      {
        at,
        pitch: 72,
        velocity: 90,
        nextBest: 73,
        perhapsNone: true,
        device: 'room',
        name: 'Bars in the room',
        source: 'microphone',
        held: true,
      },
    ]);
    // A marimba sounds as written (common practice).
    desk.run(setPlay, { instrument: 'marimba' });
    tells.onStruck({ at: at + 0.2, sounding: 60, pitch: 60, velocity: 90 });
    expect(desk.memory.value.strikes.at(-1)?.pitch).toBe(60);
  });

  it('are not taken from what the app plays through loudspeakers; on headphones they are', async () => {
    for (const [through, remembered] of [
      ['loudspeaker', [72, 76]],
      ['headphones', [72, 74, 75, 76]],
    ] as const) {
      const { desk, listen, striking } = made();
      const { tells } = await listen(through);
      const start = now();
      tells.onStruck({ at: start - 0.5, sounding: 84, pitch: 84, velocity: 90 });
      desk.run(setHeard, { what: 'page' });
      tells.onStruck({ at: now() + 0.01, sounding: 86, pitch: 86, velocity: 90 });
      desk.run(setHeard, undefined);
      // It rings on for a moment.
      tells.onStruck({ at: now() + 0.3, sounding: 87, pitch: 87, velocity: 90 });
      tells.onStruck({ at: now() + 0.9, sounding: 88, pitch: 88, velocity: 90 });
      expect(desk.memory.value.strikes.map(s => s.pitch)).toEqual(remembered);
      // A bar struck on the screen sounds, and is heard in the room a little later.
      const later = now() + 5;
      striking.strike({
        at: later,
        pitch: 60,
        velocity: 90,
        by: { id: 'screen', name: 'Bars', source: 'screen' },
      });
      tells.onStruck({ at: later + 0.12, sounding: 72, pitch: 72, velocity: 90 });
      tells.onStruck({ at: later + 0.8, sounding: 72, pitch: 72, velocity: 90 });
      const last = desk.memory.value.strikes.filter(s => s.at > later).length;
      expect(last).toBe(through === 'headphones' ? 2 : 1);
    }
  });

  it('are no music while each is struck once; afterwards each is named by how it is tuned', async () => {
    const { desk, order, listen } = made();
    const { tells } = await listen('headphones');
    desk.run(setLearning, []);
    [89.45, 91.1, 93.4].forEach((pitch, i) => {
      tells.onAtOnce({ at: now(), sounding: Math.round(pitch), pitch, velocity: 90 });
      tells.onStruck({ at: now() + i, sounding: Math.round(pitch), pitch, velocity: 90 });
    });
    expect(order).toHaveLength(3);
    expect([desk.learning.value, desk.memory.value.strikes]).toEqual([[89.45, 91.1, 93.4], []]);
    desk.run(keepLearnt);
    desk.run(setLearning, undefined);
    // Alone it would be taken for the bar above.
    tells.onStruck({ at: now(), sounding: 90, pitch: 89.52, velocity: 90 });
    expect(desk.memory.value.strikes.map(s => s.pitch)).toEqual([77]);
  });

  it('let go of the microphone when another source is chosen, even while the browser still asks', async () => {
    const { desk, room, opened, listen } = made();
    const first = await listen('loudspeaker');
    room.stop();
    expect([first.isClosed, desk.roomEar.value]).toEqual([true, undefined]);
    room.listen({ hears: 'bars', through: 'loudspeaker' });
    room.stop();
    opened[1]?.answer();
    await nextTurn();
    expect([opened[1]?.isClosed, desk.roomEar.value]).toEqual([true, undefined]);
    const third = await listen('loudspeaker');
    const fourth = await listen('headphones');
    expect([third.isClosed, fourth.isClosed, desk.roomEar.value?.through]).toEqual([
      true,
      false,
      'headphones',
    ]);
  });

  it('that go in the middle, or to another window, leave what was heard and say why', async () => {
    const { desk, listen, elsewhere } = made();
    const first = await listen('loudspeaker');
    first.tells.onStruck({ at: now() - 1, sounding: 84, pitch: 84, velocity: 90 });
    first.tells.onGone(microphoneGone('the track ended'));
    expect(desk.problem.value?.kind).toBe('microphone-gone');
    expect([desk.roomEar.value, desk.memory.value.strikes.length]).toEqual([undefined, 1]);
    const second = await listen('loudspeaker');
    expect(desk.problem.value).toBeUndefined();
    elsewhere();
    expect([second.isClosed, desk.problem.value?.kind]).toEqual([true, 'microphone-held']);
    expect(desk.memory.value.strikes).toHaveLength(1);
    // Where nothing listens, another window ends nothing and nothing is said.
    const quiet = made();
    quiet.elsewhere();
    expect(quiet.desk.problem.value).toBeUndefined();
  });

  it.each([
    ['NotAllowedError', 'microphone-refused'],
    ['SecurityError', 'microphone-refused'],
    ['NotFoundError', 'microphone-missing'],
    ['NotReadableError', 'microphone-held'],
    ['AbortError', 'microphone-held'],
    ['OverconstrainedError', 'microphone-missing'],
  ])('%s is told as %s, with what to do', async (name, kind) => {
    const { desk, room, opened } = made();
    room.listen({ hears: 'bars', through: 'loudspeaker' });
    opened[0]?.answer(failed(microphoneProblemOf(new DOMException('no', name))));
    await nextTurn();
    expect([desk.problem.value?.kind, desk.roomEar.value]).toEqual([kind, undefined]);
    expect(desk.problem.value?.next).not.toBe('');
  });

  it('Catch that waits for the last strike to be told, and for nothing else', async () => {
    const { desk, listen, striking, waits, settled } = made();
    const { tells } = await listen('headphones');
    const at = now();
    tells.onStruck({ at: at - 2, sounding: 84, pitch: 84, velocity: 90 });
    tells.onStruck({ at: at - 1.5, sounding: 86, pitch: 86, velocity: 90 });
    tells.onAtOnce({ at: at - 0.1, sounding: 88, pitch: 88, velocity: 90 });
    striking.catchThat();
    expect(waits).toHaveLength(1);
    tells.onStruck({ at: at - 0.1, sounding: 88, pitch: 88, velocity: 90 });
    waits[0]?.();
    await nextTurn();
    await settled();
    expect(desk.piece.value?.take.strikes.map(s => s.pitch)).toEqual([72, 74, 76]);
    expect(desk.piece.value?.take.source).toBe('microphone');
    const calm = made();
    const other = await calm.listen('headphones');
    other.tells.onStruck({ at: now() - 3, sounding: 84, pitch: 84, velocity: 90 });
    calm.striking.catchThat();
    expect(calm.waits).toHaveLength(0);
  });

  it('what is caught is what was chosen when it was asked for, and whose it then was', async () => {
    const { desk, listen, striking, waits, settled } = made();
    desk.run(choosePupil, { codeName: 'Heron', className: '' });
    const { tells } = await listen('headphones');
    const at = now();
    for (const [ago, pitch] of [
      [9, 84],
      [8.5, 86],
      [8, 88],
      [1, 91],
    ] as const)
      tells.onStruck({ at: at - ago, sounding: pitch, pitch, velocity: 90 });
    const [old] = phrasesIn(desk.memory.value, at, desk.now().session);
    if (old === undefined) throw new Error('no phrase');
    desk.run(choosePhrase, old);
    tells.onAtOnce({ at: at - 0.1, sounding: 93, pitch: 93, velocity: 90 });
    striking.catchThat();
    // Before the last strike is told, the next pupil has sat down.
    desk.run(choosePupil, { codeName: 'Otter', className: '' });
    tells.onStruck({ at: at - 0.1, sounding: 93, pitch: 93, velocity: 90 });
    waits[0]?.();
    await nextTurn();
    await settled();
    expect(desk.piece.value).toBeUndefined();
    expect(desk.outbox.value.map(p => [p.codeName, p.take.strikes.map(s => s.pitch)])).toEqual([
      ['Heron', [72, 74, 76]],
    ]);
  });
});

describe('what the app itself sounds', () => {
  it('is known while it plays, for a moment after, and for as long as a strike takes to the loudspeaker', () => {
    const own = createOwnSound();
    own.plays(true, 10);
    expect([9.9, 10, 12].map(own.soundsAt)).toEqual([false, true, true]);
    own.plays(true, 11);
    own.plays(false, 20);
    expect([10.5, 20, 20.5, 20.7].map(own.soundsAt)).toEqual([true, true, true, false]);
    own.strikes(25);
    expect([24.9, 24.97, 25.3, 25.5].map(own.soundsAt)).toEqual([false, true, true, false]);
    // Long past, and asked for no more.
    own.strikes(60);
    expect(own.soundsAt(25)).toBe(false);
  });

  it('give what is remembered of their sound as long as they are listened to, and nothing after', async () => {
    const { room, listen } = made();
    expect(await room.soundBetween(1, 3)).toBeUndefined();
    await listen('headphones');
    const sound = await room.soundBetween(1, 3);
    expect([sound?.from, sound?.recording.samples.length]).toEqual([1, 16000]);
    room.stop();
    expect(await room.soundBetween(1, 3)).toBeUndefined();
  });
});
