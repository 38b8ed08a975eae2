import { describe, expect, it } from 'vitest';
import { openEntry } from '../../../renderer/desk/commands/open.ts';
import { setLearning } from '../../../renderer/desk/commands/learning.ts';
import { beginPitching } from '../../../renderer/desk/commands/pitching.ts';
import { pieceOf } from '../pieces.ts';
import { made, MICROPHONES, now } from './fakeRoom.ts';

describe('the room', () => {
  it('claps are remembered on the middle line, move no bar, and are neither a bar to learn nor a pitch', async () => {
    const { desk, order, listen, opened } = made();
    const { tells } = await listen('headphones', 'claps');
    expect(opened[0]?.wish).toEqual({ hears: 'claps', microphone: '' });
    const clap = { sounding: 71, pitch: 71, velocity: 90, unpitched: true } as const;
    tells.onAtOnce({ at: now() - 0.5, ...clap });
    tells.onStruck({ at: now() - 0.5, ...clap });
    expect(order).toEqual([]);
    // The middle line of the treble stave is B4 (common practice), whatever the instrument sounds above its part.
    expect(desk.memory.value.strikes.map(s => s.pitch)).toEqual([71]);
    desk.run(setLearning, []);
    tells.onStruck({ at: now(), ...clap });
    expect(desk.learning.value).toEqual([]);
    desk.run(setLearning, undefined);
    expect(desk.memory.value.strikes).toHaveLength(1);
    const piece = pieceOf();
    desk.run(openEntry, { id: piece.id, revision: 'r1', piece });
    desk.run(beginPitching);
    expect(desk.pitching.value).toEqual([]);
    tells.onStruck({ at: now(), ...clap });
    expect(desk.pitching.value).toEqual([]);
    expect(desk.memory.value.strikes).toHaveLength(1);
  });

  it('are heard through the microphone that was chosen, now and the next time', async () => {
    const { desk, room, listen, opened, stored } = made();
    await listen('headphones', 'claps');
    expect(desk.roomEar.value).toMatchObject({ microphone: '', microphones: MICROPHONES });
    room.listenThrough('b');
    expect([stored.id, opened.length, opened[0]?.isClosed]).toEqual(['b', 2, true]);
    expect(opened[1]?.wish).toEqual({ hears: 'claps', microphone: 'b' });
    expect(desk.roomEar.value).toMatchObject({ hears: 'claps', microphone: 'b', name: undefined });
    room.stop();
    // Chosen while nothing listens, it opens none.
    room.listenThrough('a');
    expect([stored.id, opened.length]).toEqual(['a', 2]);
    await listen('loudspeaker');
    expect(opened[2]?.wish).toEqual({ hears: 'bars', microphone: 'a' });
  });

  it('are heard through it where the browser stores nothing, until the window is closed', async () => {
    const { room, listen, opened, stored } = made();
    await listen('headphones', 'claps');
    room.listenThrough('b');
    // A private window keeps nothing, and says nothing of it.
    stored.id = '';
    await listen('headphones', 'claps');
    expect(opened.map(one => one.wish.microphone)).toEqual(['', 'b', 'b']);
  });
});
