import { beforeEach, describe, expect, it } from 'vitest';
import { toNumber } from '../../core/foundation/fraction.ts';
import { move, moveOnlyHere } from '../../renderer/desk/commands/pins.ts';
import { chooseReading } from '../../renderer/desk/commands/reading.ts';
import { selectNotes } from '../../renderer/desk/commands/settings.ts';
import { redoStep, undoStep } from '../../renderer/desk/commands/step.ts';
import { deskWithPiece, type TestDesk } from './fixtures.ts';

let at: TestDesk;
/** Where a note is written, in semiquavers from the first barline. */
const placeOf = (strike: number): number | undefined => {
  const note = at.desk.reading.value?.notes.find(n => n.strike === strike);
  return note === undefined ? undefined : toNumber(note.onset) * 16;
};
/** Steps since the piece was begun. */
const steps = (): number => at.desk.history.value?.past.length ?? 0;
const later = (): void => void at.asking.ask(move, [3], 1);
const earlier = (): void => void at.asking.ask(move, [3], -1);

beforeEach(async () => {
  at = await deskWithPiece();
  at.desk.run(selectNotes, [3]);
});

describe('keys pressed faster than the reader answers', () => {
  it('twenty moves are twenty steps, in order', async () => {
    expect(placeOf(3)).toBe(12);
    for (let k = 0; k < 20; k++) later();
    await at.settled();
    expect([placeOf(3), steps()]).toEqual([32, 20]);
  });

  it('moves there and back end where they began', async () => {
    for (const press of [later, later, earlier, later, earlier, earlier]) press();
    await at.settled();
    expect([placeOf(3), steps()]).toEqual([12, 6]);
  });

  it('a move only here follows on a move that is still being read', async () => {
    later();
    at.asking.afterwards(moveOnlyHere, [3], 1);
    await at.settled();
    expect([placeOf(3), steps()]).toEqual([14, 2]);
  });

  it('undo takes back the last key pressed, not the last one answered', async () => {
    const before = at.desk.piece.value;
    later();
    at.asking.afterwards(undoStep);
    await at.settled();
    expect([at.desk.piece.value === before, steps()]).toEqual([true, 0]);
    at.asking.afterwards(redoStep);
    await at.settled();
    expect(placeOf(3)).toBe(13);
  });

  it('a reading chosen while a move is being read keeps the move', async () => {
    const [, second] = at.desk.readings.value;
    const offered = at.desk.piece.value?.hints;
    if (second === undefined || offered === undefined) throw new Error('no second reading');
    later();
    void at.asking.ask(chooseReading, second, offered);
    await at.settled();
    expect(placeOf(3)).toBe(13);
    expect(steps()).toBe(2);
  });
});
