import { describe, expect, it } from 'vitest';
import { editsOfHearing, mendedStrikes } from '../../../core/piece/heardAgain.ts';
import { corrected } from '../../../core/piece/piece.ts';
import { makePitch, remove, takeOut } from '../../../renderer/desk/commands/corrections.ts';
import { canHearAgain, heardAgain, keepSoundOf } from '../../../renderer/desk/commands/hearingAgain.ts';
import { selectNotes } from '../../../renderer/desk/commands/settings.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, pieceOf, pieceOn, SCALE, withPiece } from '../pieces.ts';

const start = withPiece(pieceOf(SCALE));
const page = (desk: DeskState) => corrected(pieceOn(desk)).notes.map(note => [note.strike, note.pitch]);
const noteOf = (desk: DeskState, strike: number) => {
  const note = corrected(pieceOn(desk)).notes.find(one => one.strike === strike);
  if (note === undefined) throw new Error('no such note');
  return note;
};
const [C, D, E, F, , A] = SCALE.strikes.map(strike => strike.pitch);
const again = (change: (pitch: number, i: number) => number | undefined) => ({
  ...SCALE,
  strikes: SCALE.strikes.flatMap((strike, i) => {
    const pitch = change(strike.pitch, i);
    return pitch === undefined ? [] : [{ ...strike, pitch }];
  }),
});

describe('an idea heard once more', () => {
  const mended = after(start, makePitch, noteOf(start, 2), 79);

  it('can be where its recording is at hand and something was put right that the ear can learn from', () => {
    expect([start, mended].map(canHearAgain)).toEqual([false, false]);
    const kept = [start, mended].map(desk => after(desk, keepSoundOf, SCALE.id));
    expect(kept.map(canHearAgain)).toEqual([false, true]);
    expect(canHearAgain(after(mended, keepSoundOf, 'another'))).toBe(false);
    expect(canHearAgain(after(mended, keepSoundOf, undefined))).toBe(false);
  });

  it('is told what was put right: bars, and what was taken out; nothing that is as it was heard', () => {
    expect(mendedStrikes(pieceOn(start))).toEqual([]);
    const out = after(mended, takeOut, noteOf(mended, 4));
    expect(mendedStrikes(pieceOn(out))).toEqual([
      { strike: SCALE.strikes[2], pitch: 79 },
      { strike: SCALE.strikes[4] },
    ]);
    const rest = after(after(start, selectNotes, [1]), remove, 'rest');
    expect(mendedStrikes(pieceOn(rest))).toEqual([{ strike: SCALE.strikes[1] }]);
    const back = after(mended, makePitch, noteOf(mended, 2), E ?? 0);
    expect(mendedStrikes(pieceOn(back))).toEqual([]);
  });

  it('changes bars and takes out strikes in one step; what was put right by hand stays', () => {
    const heard = after(
      mended,
      heardAgain,
      again((pitch, i) => (i === 1 ? pitch + 12 : i === 2 ? 60 : i === 4 ? undefined : pitch)),
    );
    expect(page(heard)).toEqual([
      [0, C],
      [1, (D ?? 0) + 12],
      [2, 79],
      [3, F],
      [5, A],
    ]);
    expect(heard.live.notice).toBe('Heard again: one note on another bar, one note taken out.');
    expect(page(after(heard, undoStep))).toEqual(page(mended));
    expect(pieceOn(heard).take).toBe(pieceOn(mended).take);
  });

  it('that is heard as it stands is no step; another idea is left alone', () => {
    const same = after(mended, heardAgain, SCALE);
    expect(same.document).toBe(mended.document);
    expect(same.live.notice).toBe('Heard again: nothing else is on another bar.');
    const other = { ...again(pitch => pitch + 1), id: 'another' };
    expect(after(mended, heardAgain, other)).toBe(mended);
  });

  it('of two bars in one moment it changes the one that is another now', () => {
    const strikes = SCALE.strikes.map((strike, i) =>
      i === 3 ? { ...strike, at: SCALE.strikes[2]?.at ?? 0 } : strike,
    );
    const piece = pieceOf({ ...SCALE, strikes });
    const there = corrected(piece).notes.filter(note => note.strike === 2 || note.strike === 3);
    expect(there).toHaveLength(2);
    const turned = strikes.map((strike, i) => (i === 3 ? { ...strike, pitch: 91 } : strike)).reverse();
    expect(editsOfHearing(piece, turned)).toEqual([{ kind: 'pitch', note: 3, pitch: 91 }]);
    expect(
      editsOfHearing(
        piece,
        strikes.filter((_, i) => i !== 2),
      ),
    ).toEqual([{ kind: 'delete', note: 2 }]);
  });
});
