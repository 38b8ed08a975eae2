import { describe, expect, it } from 'vitest';
import type { Piece } from '../../../core/piece/piece.ts';
import { watchOutbox } from '../../../renderer/desk/acts/shelving.ts';
import { shelved } from '../../../renderer/desk/commands/aside.ts';
import { setLibrary } from '../../../renderer/desk/commands/keeping.ts';
import { openEntry } from '../../../renderer/desk/commands/open.ts';
import { nextPupil } from '../../../renderer/desk/commands/pupils.ts';
import { step } from '../../../renderer/desk/commands/step.ts';
import { createDesk, type Desk } from '../../../renderer/desk/desk.ts';
import { pieceOf, takeOf } from '../pieces.ts';

const leave = (desk: Desk, id: string): void => {
  const piece = pieceOf(takeOf(id, [0, 1], [60, 62]));
  desk.run(openEntry, { id: piece.id, revision: 'r', piece });
  desk.run(step, 'title', old => ({ ...old, title: id }));
  desk.run(nextPupil);
};

describe('what left the desk', () => {
  it('goes to the register once there is one, each once, however slow it is', async () => {
    const desk = createDesk();
    const asked: string[] = [];
    const answers: (() => void)[] = [];
    const stop = watchOutbox(desk, {
      shelve: (piece: Piece) =>
        new Promise(done => {
          asked.push(piece.title);
          answers.push(() => {
            desk.run(shelved, piece, { id: piece.id, revision: 'd' });
            done(true);
          });
        }),
    });
    leave(desk, 'one');
    expect(asked).toEqual([]);
    desk.run(setLibrary, { state: 'open' });
    leave(desk, 'two');
    desk.run(setLibrary, { where: 'there' });
    expect(asked).toEqual(['one', 'two']);
    for (const answer of answers) answer();
    await Promise.resolve();
    expect(desk.outbox.value).toEqual([]);
    stop();
    leave(desk, 'three');
    expect(asked).toEqual(['one', 'two']);
  });

  it('stays where it could not be saved, and is tried again with the next', async () => {
    const desk = createDesk();
    desk.run(setLibrary, { state: 'open' });
    const asked: string[] = [];
    watchOutbox(desk, {
      shelve: (piece: Piece) => {
        asked.push(piece.title);
        return Promise.resolve(false);
      },
    });
    leave(desk, 'one');
    await new Promise(go => setTimeout(go, 0));
    expect([asked, desk.outbox.value.length]).toEqual([['one'], 1]);
    leave(desk, 'two');
    expect([asked, desk.outbox.value.length]).toEqual([['one', 'one', 'two'], 2]);
  });
});
