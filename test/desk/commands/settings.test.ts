import { describe, expect, it } from 'vitest';
import {
  goTo,
  selectNotes,
  selectStatement,
  set,
  setHearing,
  setKeys,
  setPlay,
  showWindow,
  silentParts,
  toggleLifted,
  togglePart,
} from '../../../renderer/desk/commands/settings.ts';
import { after, EMPTY } from '../pieces.ts';

describe('settings', () => {
  it('change what they name and nothing else', () => {
    expect(after(EMPTY, set, { repeatBars: true })).toEqual({
      ...EMPTY,
      session: { ...EMPTY.session, repeatBars: true },
    });
    expect(after(EMPTY, setPlay, { bpm: 60 }).session.play).toEqual({ ...EMPTY.session.play, bpm: 60 });
    expect(after(EMPTY, setHearing, { click: true }).session.hear).toEqual({
      ...EMPTY.session.hear,
      click: true,
    });
    expect(after(EMPTY, goTo, 'keep').session.view).toBe('keep');
    expect(after(EMPTY, showWindow, 'keys').live.window).toBe('keys');
  });

  it('single keys are switched off together with those of the tone bars', () => {
    const off = after(EMPTY, setKeys, false);
    expect([off.session.keyShortcuts, off.session.play.keysPlay]).toEqual([false, false]);
    const on = after(off, setKeys, true);
    expect([on.session.keyShortcuts, on.session.play.keysPlay]).toEqual([true, true]);
  });

  it('tone bars are lifted by pitch class, in order, and put back', () => {
    const lifted = after(after(after(EMPTY, toggleLifted, 11), toggleLifted, 5), toggleLifted, 0);
    expect(lifted.session.play.lifted).toEqual([0, 5, 11]);
    expect(after(lifted, toggleLifted, 5).session.play.lifted).toEqual([0, 11]);
  });

  it('notes are chosen instead of others, or with them, each once', () => {
    const two = after(EMPTY, selectNotes, [3, 4]);
    expect(after(two, selectNotes, [5]).session.selectedNotes).toEqual([5]);
    expect(after(two, selectNotes, [4, 5], true).session.selectedNotes).toEqual([3, 4, 5]);
  });

  it('choosing another statement lets the chosen note of the last one go', () => {
    const note = after(EMPTY, selectStatement, 's1', { statement: 's1', index: 2 });
    expect(note.session.selectedPlanNote).toEqual({ statement: 's1', index: 2 });
    const other = after(note, selectStatement, 's2');
    expect([other.session.selectedStatement, other.session.selectedPlanNote]).toEqual(['s2', undefined]);
  });

  it('parts alone outrank silent parts, where they are in the piece', () => {
    const quiet = after(EMPTY, togglePart, 'mutedParts', 'p1').session;
    expect([...silentParts(quiet, ['p1', 'p2'])]).toEqual(['p1']);
    const alone = after(after(EMPTY, togglePart, 'mutedParts', 'p1'), togglePart, 'aloneParts', 'p1').session;
    expect([...silentParts(alone, ['p1', 'p2', 'p3'])]).toEqual(['p2', 'p3']);
    expect([...silentParts(alone, ['p2'])]).toEqual([]);
    const back = after(after(EMPTY, togglePart, 'aloneParts', 'p1'), togglePart, 'aloneParts', 'p1').session;
    expect(back.aloneParts).toEqual([]);
  });
});
