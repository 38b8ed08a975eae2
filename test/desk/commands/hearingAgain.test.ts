import { describe, expect, it } from 'vitest';
import { editsHeardAgain, isHeard, mendedStrikes } from '../../../core/piece/heardAgain.ts';
import { corrected } from '../../../core/piece/piece.ts';
import { makePitch, remove, takeOut } from '../../../renderer/desk/commands/corrections.ts';
import {
  canHearAgain,
  canKeepSound,
  heardAgain,
  keepSoundOf,
  soundAtHand,
} from '../../../renderer/desk/commands/hearingAgain.ts';
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
/** Heard so; undefined: heard, and none of the take. */
const again = (change: (pitch: number, i: number) => number | undefined) => ({
  struck: SCALE.strikes.flatMap((strike, i) => {
    const pitch = change(strike.pitch, i);
    return pitch === undefined ? [] : [{ ...strike, pitch }];
  }),
  out: SCALE.strikes.filter((strike, i) => change(strike.pitch, i) === undefined),
});
const ID = SCALE.id;

describe('an idea heard once more', () => {
  const mended = after(start, makePitch, noteOf(start, 2), 79);

  const heardTake = { ...SCALE, source: 'microphone' as const };
  it('can be where it was heard and something was put right that the ear can learn from', () => {
    const heard = withPiece(pieceOf(heardTake));
    const right = after(heard, makePitch, noteOf(heard, 2), 79);
    expect([heard, right, mended].map(canHearAgain)).toEqual([false, true, false]);
    const file = (from: string) => {
      const desk = withPiece(pieceOf({ ...SCALE, source: 'file', from }));
      return canHearAgain(after(desk, makePitch, noteOf(desk, 2), 79));
    };
    expect(['a.wav', 'a.m4a', 'a.mid', 'a.MIDI'].map(file)).toEqual([true, true, false, false]);
  });

  it('the sound at hand is of one take, as it was then, and kept by hand only where it is nowhere else', () => {
    const sound = { take: ID, isOnlyHere: true };
    const kept = (soundOf: typeof sound | undefined) => after(start, keepSoundOf, soundOf);
    expect([sound, { ...sound, isOnlyHere: false }].map(s => canKeepSound(kept(s)))).toEqual([true, false]);
    expect(soundAtHand(kept(sound))).toEqual(sound);
    for (const other of [{ ...sound, take: 'another' }, undefined])
      expect(soundAtHand(kept(other))).toBeUndefined();
    expect(canKeepSound(start)).toBe(false);
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
      pieceOn(mended),
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
    const same = after(mended, heardAgain, pieceOn(mended), { struck: SCALE.strikes, out: [] });
    expect(same.document).toBe(mended.document);
    expect(same.live.notice).toBe('Heard again: nothing else is on another bar.');
    expect(
      after(
        mended,
        heardAgain,
        { ...pieceOn(start), take: { ...SCALE, id: 'another' } },
        again(pitch => pitch + 1),
      ),
    ).toBe(mended);
  });

  it('is refused where what the ear was told is otherwise since', () => {
    const more = after(mended, makePitch, noteOf(mended, 4), 91);
    for (const since of [start, more]) {
      const done = heardAgain(
        since,
        pieceOn(mended),
        again(pitch => pitch + 1),
      );
      expect(done).toMatchObject({ ok: false, problem: { next: 'Press Listen again once more.' } });
    }
  });

  it('leaves what is not heard at all now: only what is known to be none is taken out', () => {
    const none = after(mended, heardAgain, pieceOn(mended), { struck: [], out: [] });
    expect(page(none)).toEqual(page(mended));
    const late = SCALE.strikes.map(strike => ({ ...strike, at: strike.at + 0.05 }));
    expect(page(after(mended, heardAgain, pieceOn(mended), { struck: [], out: late }))).toEqual(page(mended));
    const near = SCALE.strikes.map(strike => ({ ...strike, at: strike.at + 0.02 }));
    expect(page(after(mended, heardAgain, pieceOn(mended), { struck: [], out: near }))).toEqual([[2, 79]]);
  });

  it('what the ear put right is no hand’s: it is heard anew, and goes where it is not so any more', () => {
    const first = after(
      mended,
      heardAgain,
      pieceOn(mended),
      again((pitch, i) => (i === 1 ? 88 : i === 4 ? undefined : pitch)),
    );
    expect(pieceOn(first).edits.map(isHeard)).toEqual([false, true, true]);
    expect(mendedStrikes(pieceOn(first))).toEqual(mendedStrikes(pieceOn(mended)));
    const hand = after(first, makePitch, noteOf(first, 5), 91);
    const second = after(
      hand,
      heardAgain,
      pieceOn(hand),
      again((pitch, i) => (i === 1 ? 89 : pitch)),
    );
    expect(page(second)).toEqual([
      [0, C],
      [1, 89],
      [2, 79],
      [3, F],
      [4, SCALE.strikes[4]?.pitch],
      [5, 91],
    ]);
    expect(second.live.notice).toBe('Heard again: one note on another bar, one note as before.');
    const same = after(
      second,
      heardAgain,
      pieceOn(second),
      again((pitch, i) => (i === 1 ? 89 : pitch)),
    );
    expect(same.document).toBe(second.document);
    // By hand once, it is the hand's.
    const mine = after(second, makePitch, noteOf(second, 1), 90);
    const third = after(mine, heardAgain, pieceOn(mine), { struck: SCALE.strikes, out: [] });
    expect(page(third)[1]).toEqual([1, 90]);
    expect(mendedStrikes(pieceOn(third)).map(one => one.pitch)).toEqual([79, 91, 90]);
  });

  it('of two bars in one moment it changes the one that is another now', () => {
    const strikes = SCALE.strikes.map((strike, i) =>
      i === 3 ? { ...strike, at: SCALE.strikes[2]?.at ?? 0 } : strike,
    );
    const piece = pieceOf({ ...SCALE, strikes });
    const there = corrected(piece).notes.filter(note => note.strike === 2 || note.strike === 3);
    expect(there).toHaveLength(2);
    const turned = strikes.map((strike, i) => (i === 3 ? { ...strike, pitch: 91 } : strike)).reverse();
    expect(editsHeardAgain(piece, { struck: turned, out: [] })).toEqual([
      { kind: 'pitch', note: 3, pitch: 91, heard: true },
    ]);
    const [two] = strikes.slice(2, 3);
    if (two === undefined) throw new Error('no such strike');
    const struck = strikes.filter((_, i) => i !== 2);
    expect(editsHeardAgain(piece, { struck, out: [two] })).toEqual([
      { kind: 'delete', note: 2, heard: true },
    ]);
    expect(editsHeardAgain(piece, { struck, out: [] })).toBe(piece.edits);
  });
});
