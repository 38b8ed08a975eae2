import { describe, expect, it } from 'vitest';
import { startPiece, openEntry } from '../../../renderer/desk/commands/open.ts';
import { caught, strike } from '../../../renderer/desk/commands/playing.ts';
import { choosePupil, giveTo } from '../../../renderer/desk/commands/pupils.ts';
import { redoStep, step, undoStep } from '../../../renderer/desk/commands/step.ts';
import { fromSafe, toSafe } from '../../../renderer/desk/safe.ts';
import { type DeskState, FIRST_DESK } from '../../../renderer/desk/state.ts';
import { readTake } from '../../../core/reading/read.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, SCALE, stepsOf, withPiece } from '../pieces.ts';

const HERON = { codeName: 'Heron', className: '8 Kestrel' };
const OTTER = { codeName: 'Otter', className: '7 Wren' };
const struck = (desk: DeskState, at: number): DeskState =>
  after(desk, strike, { at, pitch: 72, velocity: 80, device: 'pad', name: 'Pad', source: 'midi' });
const caughtAt = (desk: DeskState, now: number): number[] =>
  caught(desk, now).flatMap(phrase => phrase.strikes.map(s => s.at));

describe('the pupil of a piece', () => {
  it('nobody is invented: what is caught before anyone is chosen is not yet given', () => {
    expect(EMPTY.session.pupil).toBeUndefined();
    const asked = startPiece(EMPTY, { take: SCALE, title: 'Idea', id: 'p', pupil: EMPTY.session.pupil });
    const done = asked.ok ? asked.value?.then(EMPTY, [readTake(SCALE, {})]) : undefined;
    if (done?.ok !== true) throw new Error('not begun');
    expect(pieceOn(done.value)).toMatchObject({ codeName: '', className: '' });
    const given = after(done.value, giveTo, HERON);
    expect([pieceOn(given), given.session.pupil]).toMatchObject([HERON, HERON]);
  });

  it('who opens a piece plays for its pupil', () => {
    const desk = after(EMPTY, choosePupil, HERON);
    const piece = pieceOf();
    const open = after(desk, openEntry, { id: piece.id, revision: 'r', piece });
    expect(open.session.pupil).toEqual(OTTER);
    const nobodys = { ...piece, codeName: '', className: '' };
    expect(
      after(desk, openEntry, { id: piece.id, revision: 'r', piece: nobodys }).session.pupil,
    ).toBeUndefined();
  });

  it('giving is a step of its own; undo gives it back, and its pupil plays again', () => {
    const given = after(withPiece(), giveTo, HERON);
    expect([lastStep(given), given.live.notice]).toEqual(['give it to Heron', 'Idea is given to Heron.']);
    expect([pieceOn(given), given.session.pupil]).toMatchObject([HERON, HERON]);
    const back = after(given, undoStep);
    expect([pieceOn(back), back.session.pupil]).toMatchObject([OTTER, OTTER]);
    const again = after(back, redoStep);
    expect([pieceOn(again), again.session.pupil]).toMatchObject([HERON, HERON]);
    expect(after(given, giveTo, HERON)).toBe(given);
    expect(after(EMPTY, giveTo, HERON)).toBe(EMPTY);
    const nobodys = after(given, giveTo, undefined);
    expect([lastStep(nobodys), nobodys.session.pupil]).toEqual(['give it to nobody yet', undefined]);
  });

  it('a title, a note, an undo: none of them changes whose it is', () => {
    const named = after(withPiece(), step, 'title', old => ({ ...old, title: 'Bell' }));
    expect(named.session.pupil).toEqual(OTTER);
    expect(after(named, undoStep).session.pupil).toEqual(OTTER);
  });

  it('choosing another pupil never renames a piece', () => {
    const piece = pieceOf();
    const desk = after(withPiece(piece), choosePupil, HERON);
    expect(desk.session.pupil).toEqual(HERON);
    const lies = desk.document.history?.present.piece;
    expect(lies === undefined || lies === piece).toBe(true);
    expect(stepsOf(desk)).toBe(0);
  });
});

describe('what was struck before a turn', () => {
  it('is not the next pupil’s to catch', () => {
    let desk = after(EMPTY, choosePupil, HERON);
    desk = struck(struck(desk, 10), 10.5);
    expect(caughtAt(desk, 11)).toEqual([10, 10.5]);
    desk = after(desk, choosePupil, OTTER);
    expect(caughtAt(desk, 11)).toEqual([]);
    // Not even where it would be the same phrase.
    desk = struck(desk, 11);
    expect(caughtAt(desk, 11.5)).toEqual([11]);
    expect(caughtAt(after(desk, choosePupil, OTTER), 11.5)).toEqual([11]);
  });

  it('is the first pupil’s where nobody was chosen then', () => {
    const desk = after(struck(EMPTY, 10), choosePupil, HERON);
    expect(caughtAt(desk, 11)).toEqual([10]);
  });

  it('stays another’s through a reload, although the clock began anew', () => {
    const desk = after(struck(after(EMPTY, choosePupil, HERON), 10), choosePupil, OTTER);
    const stored = structuredClone(toSafe(struck(desk, 12), 1_000_000));
    const back = fromSafe(FIRST_DESK, stored, 1_060_000);
    expect(back?.session.pupil).toEqual(OTTER);
    expect(caughtAt(back ?? EMPTY, -40)).toEqual([-48]);
  });
});
