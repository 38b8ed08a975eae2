import { describe, expect, it } from 'vitest';
import {
  addLearning,
  forgetLearnt,
  keepLearnt,
  setLearning,
  tunedBarsOf,
} from '../../../renderer/desk/commands/learning.ts';
import { currentRoom } from '../../../renderer/desk/commands/room.ts';
import { setPlay } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';
import { roomShape } from '../../../renderer/storage/rooms.ts';
import { deskWithPiece } from '../fixtures.ts';

describe('the bars of a room, each struck once', () => {
  it('are kept with the room for that instrument alone, in a shape that can be stored, and forgotten', () => {
    const desk = createDesk();
    desk.run(setLearning, []);
    for (const pitch of [79.1, 77.2, 81.3]) desk.run(addLearning, pitch);
    expect(desk.run(keepLearnt)).toBe(true);
    expect(tunedBarsOf(desk.now(), 'xylophone').map(bar => bar.sounding)).toEqual([77, 79, 81]);
    expect(tunedBarsOf(desk.now(), 'marimba')).toEqual([]);
    const room = currentRoom(desk.now());
    expect(roomShape.parse(JSON.parse(JSON.stringify(room)))).toEqual(room);
    desk.run(setPlay, { instrument: 'marimba' });
    desk.run(forgetLearnt);
    expect(tunedBarsOf(desk.now(), 'xylophone')).toHaveLength(3);
    desk.run(setPlay, { instrument: 'xylophone' });
    desk.run(forgetLearnt);
    expect(tunedBarsOf(desk.now(), 'xylophone')).toEqual([]);
  });

  it('too few are said, and what was known holds; nothing is learnt unless it is asked for', () => {
    const desk = createDesk();
    desk.run(addLearning, 77);
    expect(desk.learning.value).toBeUndefined();
    desk.run(setLearning, [77, 79, 81]);
    desk.run(keepLearnt);
    desk.run(setLearning, [77]);
    expect(desk.run(keepLearnt)).toBe(false);
    expect(desk.problem.value?.kind).toBe('out-of-range');
    expect(tunedBarsOf(desk.now(), 'xylophone')).toHaveLength(3);
  });

  it('with a piece on the desk it is a step that can be undone', async () => {
    const { desk } = await deskWithPiece();
    desk.run(setLearning, [77, 79, 81]);
    desk.run(keepLearnt);
    expect(tunedBarsOf(desk.now(), 'xylophone')).toHaveLength(3);
    desk.run(undoStep);
    expect(tunedBarsOf(desk.now(), 'xylophone')).toEqual([]);
  });
});
