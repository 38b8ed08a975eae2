import { describe, expect, it } from 'vitest';
import { readTake } from '../../../core/reading/read.ts';
import { shelved } from '../../../renderer/desk/commands/aside.ts';
import { chooseClass, classNow, nextOf } from '../../../renderer/desk/commands/classes.ts';
import { kept, setLibrary } from '../../../renderer/desk/commands/keeping.ts';
import { openEntry, startPiece } from '../../../renderer/desk/commands/open.ts';
import { choosePupil, nextPupil } from '../../../renderer/desk/commands/pupils.ts';
import { isRehearsing, rehearse } from '../../../renderer/desk/commands/rehearsal.ts';
import { goTo } from '../../../renderer/desk/commands/settings.ts';
import { step } from '../../../renderer/desk/commands/step.ts';
import { fromSafe, toSafe } from '../../../renderer/desk/safe.ts';
import { type DeskState, FIRST_DESK } from '../../../renderer/desk/state.ts';
import { after, EMPTY, pieceOf, pieceOn, SCALE, takeOf, withPiece } from '../pieces.ts';

const HERON = { codeName: 'Heron', className: '8 Kestrel' };
const OTTER = { codeName: 'Otter', className: '7 Wren' };
const classOf = (name: string, ...pupils: string[]) => ({
  list: { id: `class-${name.toLowerCase().replace(/\W/g, '')}`, name, pupils, groups: [] },
  heads: ['r1'],
  savedAt: '',
  away: false,
});
const withClasses = (desk: DeskState): DeskState =>
  after(desk, setLibrary, {
    classes: [classOf('7 Wren', 'Otter', 'Lynx'), classOf('8 Kestrel', 'Badger', 'Heron', 'Plover')],
  });
const begun = (desk: DeskState, pupil = desk.session.pupil): DeskState => {
  const asked = startPiece(desk, { take: SCALE, title: 'New', id: 'new', pupil });
  const done = asked.ok ? asked.value?.then(desk, [readTake(SCALE, {})]) : undefined;
  if (done?.ok !== true) throw new Error('not begun');
  return done.value;
};
const changed = (desk: DeskState, title = 'Bell'): DeskState =>
  after(desk, step, 'title', old => ({ ...old, title }));

describe('nothing is replaced unkept', () => {
  it('another piece, or the next pupil’s, is grown before it is rehearsed', () => {
    const rehearsed = after(after(withPiece(), goTo, 'grow'), rehearse, true);
    expect(isRehearsing(rehearsed)).toBe(true);
    const other = pieceOf(takeOf('other', [0, 1], [60, 62]));
    const opened = after(rehearsed, openEntry, { id: other.id, revision: 'r1', piece: other });
    expect(isRehearsing(after(opened, goTo, 'grow'))).toBe(false);
    const next = after(withClasses(rehearsed), choosePupil, OTTER);
    expect(isRehearsing(after(begun(next), goTo, 'grow'))).toBe(false);
  });

  it('what was not kept waits for the register when another is caught or opened', () => {
    const desk = changed(withPiece());
    const left = pieceOn(desk);
    expect(begun(desk).document.outbox).toEqual([left]);
    const other = pieceOf(takeOf('other', [0, 1], [60, 62]));
    const opened = after(desk, openEntry, { id: other.id, revision: 'r7', piece: other });
    expect(opened.document.outbox).toEqual([left]);
    // Two pieces, one after the other, wait both; the same one in a newer state waits once.
    const two = after(changed(opened, 'Gong'), choosePupil, HERON);
    expect(two.document.outbox.map(piece => piece.title)).toEqual(['Bell', 'Gong']);
    const again = after(
      after(opened, openEntry, { id: left.id, revision: 'r1', piece: left }),
      step,
      'x',
      old => ({
        ...old,
        title: 'Bells',
      }),
    );
    expect(after(again, nextPupil).document.outbox.map(piece => piece.title)).toEqual(['Bells']);
  });

  it('what the register has already, as a version or as a draft, does not wait', () => {
    expect(begun(withPiece()).document.outbox).toEqual([]);
    const desk = changed(withPiece());
    const entry = { id: pieceOn(desk).id, revision: 'r2' };
    expect(after(after(desk, kept, pieceOn(desk), entry), nextPupil).document.outbox).toEqual([]);
    expect(after(after(desk, shelved, pieceOn(desk), entry), nextPupil).document.outbox).toEqual([]);
    const draft = pieceOf();
    const open = after(EMPTY, openEntry, { id: draft.id, revision: 'r', piece: draft, draft: true });
    expect([open.document.kept, open.document.drafted]).toEqual([undefined, draft]);
    expect(after(open, nextPupil).document.outbox).toEqual([]);
  });

  it('a draft in the register is no longer waited for, and the next revision comes from it', () => {
    const desk = after(changed(withPiece()), nextPupil);
    const [left] = desk.document.outbox;
    if (left === undefined) throw new Error('nothing left');
    const there = after(desk, shelved, left, { id: left.id, revision: 'r9' });
    expect([there.document.outbox, there.document.revisions[left.id]]).toEqual([[], 'r9']);
    // Another that waits goes on waiting.
    const other = pieceOf(takeOf('other', [0, 1], [60, 62]));
    const two = { ...desk, document: { ...desk.document, outbox: [left, other] } };
    expect(after(two, shelved, left, { id: left.id, revision: 'r9' }).document.outbox).toEqual([other]);
  });

  it('what waits is on disk, and comes back; what is no piece hides nothing', () => {
    const desk = after(changed(withPiece()), nextPupil);
    const stored = structuredClone(toSafe(desk, 0)) as unknown as { outbox: unknown[] };
    stored.outbox.push('no piece');
    expect(fromSafe(FIRST_DESK, stored, 0)?.document.outbox).toEqual(desk.document.outbox);
    expect(fromSafe(FIRST_DESK, { version: 1, outbox: stored.outbox }, 0)?.document.outbox).toHaveLength(1);
  });
});

describe('the next pupil', () => {
  it('sits down at an empty desk, in Play, from every place', () => {
    for (const view of ['play', 'write', 'grow', 'keep'] as const) {
      const desk = after(after(withClasses(changed(withPiece())), goTo, view), nextPupil);
      expect([desk.document.history, desk.session.view, desk.session.pupil]).toEqual([
        undefined,
        'play',
        { codeName: 'Lynx', className: '7 Wren' },
      ]);
      expect(desk.live.notice).toBe('Bell by Otter is safe in the register. Lynx plays.');
    }
  });

  it('goes round the class of whoever plays; another class begins with its first', () => {
    let desk = withClasses(after(EMPTY, choosePupil, HERON));
    const seen: (string | undefined)[] = [];
    for (let k = 0; k < 4; k++) {
      desk = after(desk, nextPupil);
      seen.push(desk.session.pupil?.codeName);
    }
    expect(seen).toEqual(['Plover', 'Badger', 'Heron', 'Plover']);
    expect(nextOf(after(desk, chooseClass, '7 Wren'))?.codeName).toBe('Otter');
    expect(nextOf(after(desk, choosePupil, OTTER))?.codeName).toBe('Lynx');
    expect(nextOf(after(desk, choosePupil, { ...HERON, codeName: 'Stranger' }))?.codeName).toBe('Badger');
  });

  it('without a class list is nobody yet; the only class is the one meant', () => {
    const desk = after(after(EMPTY, choosePupil, { codeName: 'Heron', className: '' }), nextPupil);
    expect([desk.session.pupil, desk.live.notice]).toEqual([undefined, 'Nobody yet plays.']);
    const one = after(desk, setLibrary, { classes: [classOf('7 Wren', 'Otter')] });
    expect(classNow(one)?.name).toBe('7 Wren');
    expect(classNow(withClasses(desk))).toBeUndefined();
    const away = after(desk, setLibrary, { classes: [{ ...classOf('7 Wren', 'Otter'), away: true }] });
    expect(nextOf(away)).toBeUndefined();
  });

  it('does not get what was caught before: it waits for its pupil in the register', () => {
    const desk = after(withClasses(after(EMPTY, choosePupil, HERON)), nextPupil);
    const late = begun(desk, HERON);
    expect([late.document.history, late.document.outbox.map(piece => piece.codeName)]).toEqual([
      undefined,
      ['Heron'],
    ]);
    expect([late.session.view, late.live.notice]).toEqual(['play', 'New by Heron is safe in the register.']);
  });
});
