import { describe, expect, it } from 'vitest';
import { likelyMotif } from '../../../core/piece/motifOfReading.ts';
import { planOf } from '../../../core/piece/piece.ts';
import type { Pupil } from '../../../core/piece/pupil.ts';
import { readTake } from '../../../core/reading/read.ts';
import { kept, setLibrary, showShelf } from '../../../renderer/desk/commands/keeping.ts';
import { addMotif, dropMotif, setMotif } from '../../../renderer/desk/commands/motifs.ts';
import { goOnWithMotif, nameIt, openEntry, startPiece } from '../../../renderer/desk/commands/open.ts';
import { setPlay } from '../../../renderer/desk/commands/settings.ts';
import { step, undoStep } from '../../../renderer/desk/commands/step.ts';
import { withLive, withSession } from '../../../renderer/desk/state.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, SCALE, stepsOf, withPiece } from '../pieces.ts';

const OTTER = { codeName: 'Otter', className: '7 Wren' };
const begun = (before = EMPTY, more: { notice?: string; pupil?: Pupil } = {}) => {
  const pupil = more.pupil ?? before.session.pupil;
  const desk = withSession(before, { pupil });
  const begin = { take: SCALE, title: 'Ferry', id: 'piece-7', pupil, ...more };
  const asked = startPiece(desk, begin);
  if (!asked.ok || asked.value === undefined) throw new Error('nothing asked');
  const { questions, then } = asked.value;
  expect(questions).toEqual([{ take: SCALE, hints: {} }]);
  return then(desk, [readTake(SCALE, {})]);
};

describe('a new piece', () => {
  it('belongs to the pupil and the instrument of Play, and is written first', () => {
    const desk = withSession(after(EMPTY, setPlay, { instrument: 'marimba' }), {
      selectedNotes: [4],
      selectedStatement: 's3',
    });
    const done = begun(desk, { notice: 'Caught.', pupil: OTTER });
    if (!done.ok) throw new Error(done.problem.what);
    const { id, title, codeName, className, instrument, take } = pieceOn(done.value);
    expect({ id, title, codeName, className, instrument, take }).toEqual({
      id: 'piece-7',
      title: 'Ferry',
      codeName: 'Otter',
      className: '7 Wren',
      instrument: 'marimba',
      take: SCALE,
    });
    const { view, selectedNotes, selectedStatement } = done.value.session;
    expect([view, selectedNotes, selectedStatement]).toEqual(['write', [], undefined]);
    expect([done.value.document.kept, done.value.live.notice]).toEqual([undefined, 'Caught.']);
    expect(stepsOf(done.value)).toBe(0);
  });

  it('over another is a step: undo brings that one back', () => {
    const done = begun(withPiece());
    if (!done.ok) throw new Error(done.problem.what);
    expect([lastStep(done.value), stepsOf(done.value)]).toEqual(['begin Ferry', 1]);
    expect(done.value.live.notice).toBe('');
  });

  it('from a take without strikes is refused in a sentence', () => {
    const asked = startPiece(EMPTY, {
      take: { ...SCALE, strikes: [] },
      title: 'None',
      id: 'piece-8',
      pupil: undefined,
    });
    const done = asked.ok ? asked.value?.then(EMPTY, [[]]) : undefined;
    expect(done).toMatchObject({ ok: false, problem: { kind: 'no-notes' } });
  });
});

describe('opening and keeping', () => {
  it('opens where it was left, as kept, from its revision', () => {
    const written = pieceOf();
    const grown = { ...written, plan: planOf(written) };
    const tried = withLive(EMPTY, { rippled: ['x'], followed: [1], problem: undefined, notice: 'old' });
    const desk = after(tried, openEntry, { id: grown.id, revision: 'r9', piece: grown });
    expect([desk.session.view, desk.document.kept, desk.document.revisions]).toEqual([
      'grow',
      grown,
      { [grown.id]: 'r9' },
    ]);
    expect([desk.live.rippled, desk.live.followed, desk.live.notice]).toEqual([[], [], '']);
    expect(withPiece(written).session.view).toBe('write');
  });

  it('a kept piece is what it is then; its next revision comes from this one', () => {
    const desk = after(withPiece(), step, 'title', old => ({ ...old, title: 'Bell' }));
    const now = after(desk, kept, pieceOn(desk), { id: pieceOn(desk).id, revision: 'r2' });
    expect([now.document.kept, now.document.revisions[pieceOn(desk).id], now.live.notice]).toEqual([
      pieceOn(desk),
      'r2',
      'Kept: Bell by Otter.',
    ]);
    const later = after(now, step, 'title', old => ({ ...old, title: 'Bells' }));
    expect(later.document.kept).not.toBe(pieceOn(later));
  });

  it('the register is shown as the library has it', () => {
    const opening = after(EMPTY, setLibrary, { state: 'opening', where: 'a folder' });
    expect(opening.live.library).toEqual({
      ...EMPTY.live.library,
      state: 'opening',
      where: 'a folder',
    });
    const damaged = [{ kind: 'damaged-file', what: 'One.', kept: '', next: '' }] as const;
    const open = after(opening, showShelf, { entries: [], classes: [], damaged });
    expect([open.live.library.state, open.live.library.damaged]).toEqual(['open', damaged]);
  });
});

describe('names and motifs', () => {
  it('a title is one step, whoever’s the piece is; the same title is no step', () => {
    const named = after(withPiece(), nameIt, 'Bell');
    expect(pieceOn(named)).toMatchObject({ title: 'Bell', ...OTTER });
    expect(lastStep(named)).toBe('name it Bell');
    expect(stepsOf(after(named, nameIt, 'Bell'))).toBe(stepsOf(named));
    expect(after(EMPTY, nameIt, 'Bell')).toBe(EMPTY);
  });

  it('a title that is still typed is one step, called by what it came to, and none where it came to nothing new', () => {
    const title = pieceOn(withPiece()).title;
    const typed = after(after(withPiece(), nameIt, 'Be'), nameIt, 'Bell', title);
    expect([pieceOn(typed).title, lastStep(typed), stepsOf(typed)]).toEqual(['Bell', 'name it Bell', 1]);
    expect(pieceOn(after(typed, undoStep)).title).toBe(title);
    expect(stepsOf(after(typed, nameIt, title, title))).toBe(0);
    // After another step, or what was undone, it is a step of its own; nothing that could be redone is lost.
    const other = after(typed, step, 'play it on bells', old => ({
      ...old,
      instrument: 'glockenspiel' as const,
    }));
    expect(stepsOf(after(other, nameIt, 'Gong', title))).toBe(3);
    const undone = after(after(typed, nameIt, 'Gong'), undoStep);
    expect(stepsOf(after(undone, nameIt, 'Bells', title))).toBe(2);
  });

  it('a title typed anew is no part of the naming before it, though nothing new was typed at first', () => {
    const named = after(withPiece(), nameIt, 'Bell');
    // "Bell ", a pause, "Bell song"; and "Gong", a pause, "Bell", a pause, "Bell song".
    const spaced = after(after(named, nameIt, 'Bell'), nameIt, 'Bell song', 'Bell');
    const back = after(
      after(after(named, nameIt, 'Gong'), nameIt, 'Bell', 'Bell'),
      nameIt,
      'Bell song',
      'Bell',
    );
    for (const desk of [spaced, back]) {
      expect([stepsOf(desk), lastStep(desk)]).toEqual([2, 'name it Bell song']);
      expect(pieceOn(after(desk, undoStep)).title).toBe('Bell');
    }
  });

  it('the likely motif is taken where none was cut, then Grow is shown', () => {
    const desk = after(withPiece(), goOnWithMotif);
    expect([pieceOn(desk).motifBars, desk.session.view]).toEqual([
      likelyMotif(pieceOn(desk).reading),
      'grow',
    ]);
    const cut = after(withPiece(), setMotif, { from: 2, to: 2 });
    expect(pieceOn(after(cut, goOnWithMotif)).motifBars).toEqual({ from: 2, to: 2 });
  });

  it('further motifs are numbered on, and taken away by number', () => {
    const two = after(after(withPiece(), addMotif, { from: 1, to: 1 }), addMotif, { from: 2, to: 2 });
    expect(pieceOn(two).moreMotifs?.map(cut => [cut.id, cut.from])).toEqual([
      ['2', 1],
      ['3', 2],
    ]);
    expect(lastStep(two)).toBe('motif 3 from the chosen notes');
    const one = after(two, dropMotif, '2');
    expect([pieceOn(one).moreMotifs?.map(cut => cut.id), lastStep(one)]).toEqual([
      ['3'],
      'take motif 2 away',
    ]);
    expect(pieceOn(after(one, addMotif, { from: 1, to: 2 })).moreMotifs?.at(-1)?.id).toBe('4');
  });
});
