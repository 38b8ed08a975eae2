import { describe, expect, it } from 'vitest';
import { withToneBar } from '../../../core/playable/toneBarSet.ts';
import { mendRoom } from '../../../core/playable/remedies.ts';
import { checkPlayable } from '../../../core/playable/check.ts';
import { motifOf, pieceScore, planOf } from '../../../core/piece/piece.ts';
import { secondsAtOnset } from '../../../core/playback/seconds.ts';
import {
  addRoom,
  changeRoom,
  currentRoom,
  enterRoom,
  mend,
  roomsOf,
} from '../../../renderer/desk/commands/room.ts';
import { redoStep, step, undoStep } from '../../../renderer/desk/commands/step.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, withPiece } from '../pieces.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';

const called = (name: string) => (room: ReturnType<typeof currentRoom>) => ({ ...room, name });

describe('the room', () => {
  it('is changed at once where nothing lies on the desk', () => {
    const desk = after(EMPTY, changeRoom, 'call it Hut', called('Hut'));
    expect([currentRoom(desk).name, desk.document.history]).toEqual(['Hut', undefined]);
    expect(desk.session.rooms.all[0]?.name).toBe('Hut');
  });

  it('is changed by steps that undo and redo, beside steps of the piece', () => {
    let desk = after(withPiece(), changeRoom, 'call it Hut', called('Hut'));
    desk = after(desk, step, 'title', old => ({ ...old, title: 'T' }));
    desk = after(desk, changeRoom, 'call it Barn', called('Barn'));
    const names: string[] = [currentRoom(desk).name];
    for (let k = 0; k < 3; k++) {
      desk = after(desk, undoStep);
      names.push(currentRoom(desk).name);
    }
    expect(names).toEqual(['Barn', 'Hut', 'Hut', 'Music room']);
    expect(desk.session.rooms.all[0]?.name).toBe('Music room');
    for (let k = 0; k < 3; k++) desk = after(desk, redoStep);
    expect([currentRoom(desk).name, pieceOn(desk).title]).toEqual(['Barn', 'T']);
  });

  it('a change that changes nothing is no step, and leaves the piece as kept', () => {
    const desk = withPiece();
    expect(after(desk, changeRoom, 'nothing', room => room)).toBe(desk);
    const changed = after(desk, changeRoom, 'call it Hut', called('Hut'));
    expect([pieceOn(changed), lastStep(changed)]).toEqual([pieceOn(desk), 'call it Hut']);
    expect(changed.document.kept).toBe(pieceOn(changed));
  });

  it('another room is a copy under a new name and number, and is entered', () => {
    const two = after(EMPTY, addRoom);
    expect(roomsOf(two).all.map(r => [r.id, r.name])).toEqual([
      ['room-1', 'Music room'],
      ['room-2', 'Room 2'],
    ]);
    expect(currentRoom(two).id).toBe('room-2');
    const three = after(after(two, enterRoom, 'room-1'), addRoom);
    expect(currentRoom(three).id).toBe('room-3');
    expect(after(three, enterRoom, 'room-9')).toBe(three);
  });

  it('whoever went into another room stays there when a change of the first is undone', () => {
    let desk = after(withPiece(), changeRoom, 'call it Hut', called('Hut'));
    desk = after(desk, addRoom);
    expect(currentRoom(desk).name).toBe('Room 2');
    expect(stepsOf(desk)).toBe(1);
    desk = after(desk, undoStep);
    expect(currentRoom(desk).id).toBe('room-2');
    expect(roomsOf(desk).all.find(r => r.id === 'room-1')?.name).toBe('Music room');
    expect(currentRoom(after(desk, enterRoom, 'room-1')).name).toBe('Music room');
  });
});

describe('remedies', () => {
  const check = (desk: DeskState) => {
    const piece = pieceOn(desk);
    const score = pieceScore(piece);
    return checkPlayable(motifOf(piece), planOf(piece), currentRoom(desk), at => secondsAtOnset(score, at));
  };
  /** A room in which a tone bar of the piece was lifted off. */
  const desk = after(
    after(withPiece(pieceOf(takeOf('low', [0, 1, 2, 3], [72, 74, 76, 74], 1))), step, 'grow', old => ({
      ...old,
      plan: planOf(old),
    })),
    changeRoom,
    'lift D5 off',
    room => ({ ...room, sets: room.sets.map(set => withToneBar(set, 74, 'lifted')) }),
  );
  const remedies = check(desk).parts.flatMap(p => p.problems.flatMap(x => x.remedies));

  it('each takes the problem away in one step, and undo brings it back', () => {
    expect(check(desk).count).toBeGreaterThan(0);
    expect(remedies.length).toBeGreaterThan(1);
    for (const remedy of remedies) {
      const mended = after(desk, mend, 'mend it', remedy);
      expect(stepsOf(mended)).toBe(stepsOf(desk) + 1);
      expect(check(mended).parts.flatMap(p => p.problems)).toEqual([]);
      const changesRoom = mendRoom(currentRoom(desk), remedy) !== currentRoom(desk);
      expect(currentRoom(mended) === currentRoom(desk)).toBe(!changesRoom);
      const back = after(mended, undoStep);
      expect([pieceOn(back), currentRoom(back)]).toEqual([pieceOn(desk), currentRoom(desk)]);
    }
    expect(after(EMPTY, mend, 'mend it', remedies[0] as (typeof remedies)[number])).toBe(EMPTY);
  });
});
