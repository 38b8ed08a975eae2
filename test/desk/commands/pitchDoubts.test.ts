import { add } from '../../../core/foundation/fraction.ts';
import { describe, expect, it } from 'vitest';
import { pitchDoubts, strikeDoubts } from '../../../core/piece/pitchDoubts.ts';
import { corrected } from '../../../core/piece/piece.ts';
import { catchPhrase } from '../../../core/take/catchPhrase.ts';
import { makePitch, takeOut } from '../../../renderer/desk/commands/corrections.ts';
import { strike } from '../../../renderer/desk/commands/playing.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, EMPTY, pieceOf, pieceOn, SCALE, withPiece } from '../pieces.ts';

/** The third of six strikes may have been an F. */
const DOUBTED = { ...SCALE, strikes: SCALE.strikes.map((s, i) => (i === 2 ? { ...s, nextBest: 77 } : s)) };
const start = withPiece(pieceOf(DOUBTED));
const shown = (desk: DeskState) =>
  pitchDoubts(pieceOn(desk)).map(d => [d.note.strike, d.note.pitch, d.nextBest]);

describe('a note whose bar may have been another', () => {
  it('is shown with the next best, and mended by one step; undone, it is in doubt again', () => {
    expect(shown(start)).toEqual([[2, 76, 77]]);
    expect(shown(withPiece())).toEqual([]);
    const [doubt] = pitchDoubts(pieceOn(start));
    if (doubt === undefined) throw new Error('no doubt');
    const mended = after(start, makePitch, doubt.note, doubt.nextBest);
    expect(shown(mended)).toEqual([]);
    expect(pieceOn(mended).take).toBe(pieceOn(start).take);
    expect(shown(after(mended, undoStep))).toEqual([[2, 76, 77]]);
  });

  it('given another pitch by hand, and then its first, it is in doubt no more', () => {
    const [doubt] = pitchDoubts(pieceOn(start));
    if (doubt === undefined) throw new Error('no doubt');
    const away = after(start, makePitch, doubt.note, 79);
    const back = after(away, makePitch, { ...doubt.note, pitch: 79 }, 76);
    expect(shown(back)).toEqual([]);
  });

  it('comes from the bars in the room into the take that is caught', () => {
    const heard = {
      at: 5,
      pitch: 76,
      velocity: 90,
      device: 'room',
      name: 'Room',
      source: 'microphone',
    } as const;
    const desk = after(after(EMPTY, strike, { ...heard, nextBest: 77 }), strike, { ...heard, at: 6 });
    const take = catchPhrase(desk.live.memory, { from: 5, to: 6, id: 't', capturedAt: '', latency: 0 });
    expect(take.ok && take.value.strikes).toEqual([
      { at: 0, pitch: 76, velocity: 90, nextBest: 77 },
      { at: 1, pitch: 76, velocity: 90 },
    ]);
  });
});

describe('a note that may be somebody else’s', () => {
  const soft = (i: number) =>
    SCALE.strikes.map((s, k) => (k === i ? { ...s, perhapsNone: true as const } : s));
  const begun = withPiece(pieceOf({ ...SCALE, strikes: soft(2) }));
  const doubted = (desk: DeskState) => strikeDoubts(pieceOn(desk)).map(note => note.strike);

  it('is shown, and taken out by one step; undone, it is in doubt again', () => {
    expect([doubted(begun), doubted(withPiece())]).toEqual([[2], []]);
    const [note] = strikeDoubts(pieceOn(begun));
    if (note === undefined) throw new Error('no doubt');
    const out = after(begun, takeOut, note);
    const { notes } = corrected(pieceOn(out));
    expect(notes.map(n => n.strike)).toEqual([0, 1, 3, 4, 5]);
    // Nobody rested there: what was struck before rings on.
    const [, before, next] = notes;
    expect(before && add(before.onset, before.duration)).toEqual(next?.onset);
    expect(out.live.notice).toBe('Take out E5.');
    expect([doubted(out), doubted(after(out, undoStep))]).toEqual([[], [2]]);
    expect(pieceOn(out).take).toBe(pieceOn(begun).take);
  });

  it('is the pupil’s once anything about it was corrected', () => {
    const [note] = strikeDoubts(pieceOn(begun));
    if (note === undefined) throw new Error('no doubt');
    expect(doubted(after(begun, makePitch, note, 79))).toEqual([]);
  });

  it('comes from the bars in the room into the take that is caught', () => {
    const heard = {
      at: 5,
      pitch: 76,
      velocity: 40,
      device: 'r',
      name: 'Room',
      source: 'microphone',
    } as const;
    const desk = after(after(EMPTY, strike, { ...heard, perhapsNone: true }), strike, { ...heard, at: 6 });
    const take = catchPhrase(desk.live.memory, { from: 5, to: 6, id: 't', capturedAt: '', latency: 0 });
    expect(take.ok && take.value.strikes.map(s => s.perhapsNone)).toEqual([true, undefined]);
  });
});
