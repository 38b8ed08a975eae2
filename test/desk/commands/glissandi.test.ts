import { describe, expect, it } from 'vitest';
import { show } from '../../../core/foundation/fraction.ts';
import { corrected, motifOf } from '../../../core/piece/piece.ts';
import { toggleGliss } from '../../../renderer/desk/commands/glissandi.ts';
import { move } from '../../../renderer/desk/commands/pins.ts';
import { redoStep, undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { asked } from '../asked.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, withPiece } from '../pieces.ts';

const WHITE = [60, 62, 64, 65, 67, 69, 71, 72];
/** A crotchet, eight white bars from C4 up in half a crotchet (32 a second), and two crotchets more. */
const DRAWN = takeOf('drawn', [0, ...WHITE.map((_, i) => 1 + i / 16), 2, 3], [72, ...WHITE, 79, 77]);
const told = (desk: DeskState): readonly string[] =>
  corrected(pieceOn(desk)).notes.map(
    n =>
      `${show(n.onset)} ${String(n.pitch)}${n.gliss === undefined ? '' : ` g${String(n.gliss.strokes.length)} to ${String(n.gliss.to)}`}`,
  );
const AS_LINE = ['0 72', '1/4 60 g8 to 72', '1/2 79', '3/4 77'];
const drawn = (): DeskState => withPiece(pieceOf(DRAWN));

describe('a glissando in Write', () => {
  it('is written out and back by one action each, from whichever stroke, and undone', () => {
    const desk = drawn();
    expect(told(desk)).toEqual(AS_LINE);
    const out = after(desk, toggleGliss, [1]);
    expect([told(out).length, told(out)[2], lastStep(out), stepsOf(out)]).toEqual([
      11,
      '17/64 62',
      'write out the glissando from C4',
      1,
    ]);
    expect(told(after(out, undoStep))).toEqual(AS_LINE);
    expect(told(after(after(out, undoStep), redoStep))).toEqual(told(out));
    for (const stroke of [1, 4, 8]) {
      const back = after(out, toggleGliss, [stroke]);
      expect([told(back), lastStep(back), stepsOf(back)]).toEqual([AS_LINE, 'draw a glissando from C4', 2]);
      expect(back.session.selectedNotes).toEqual([1]);
    }
  });

  it('is drawn from one chosen note to the next, which stays a note; the motif has it', () => {
    const one = after(drawn(), toggleGliss, [9, 10]);
    expect(told(one).slice(2)).toEqual(['1/2 79 g1 to 77', '3/4 77']);
    expect(motifOf(pieceOn(one)).notes.map(n => n.gliss !== undefined)).toEqual([false, true, true, false]);
    expect(told(after(one, toggleGliss, [9]))).toEqual(AS_LINE);
  });

  it('of several notes leads to the last where that is longer, else ends on none', () => {
    const three = withPiece(
      pieceOf(takeOf('three', [0, 0.5, 1, 2, 2.5, 3, 3.5], [60, 62, 64, 60, 62, 64, 65])),
    );
    expect(told(after(three, toggleGliss, [0, 1, 2]))[0]).toBe('0 60 g2 to 64');
    expect(told(after(three, toggleGliss, [0, 1, 2]))[1]).toBe('1/4 64');
    expect(told(after(three, toggleGliss, [3, 4, 5, 6])).slice(3)).toEqual(['1/2 60 g4 to 65']);
  });

  it('of notes up and down, of one note, or with too many strokes is refused, and says so', () => {
    const desk = withPiece(pieceOf(takeOf('no', [0, 1, 2, 3], [60, 64, 62, 65])));
    expect(toggleGliss(desk, [0, 1, 2])).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
    expect(toggleGliss(desk, [0])).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
    // Twelve bars in a demisemiquaver's room cannot be written.
    const full = Array.from({ length: 12 }, (_, i) => 60 + i);
    const many = withPiece(
      pieceOf(takeOf('many', [0, ...full.map((_, i) => 1 + i / 24), 1.5, 3], [72, ...full, 79, 77])),
    );
    expect(told(many)[1]).toBe('1/4 60 g12 to 71');
    expect(toggleGliss(many, [1])).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
    expect(after(EMPTY, toggleGliss, [0])).toBe(EMPTY);
  });

  it('written out, its strokes stay notes when one of them is moved', () => {
    const out = after(drawn(), toggleGliss, [1]);
    const { desk: moved } = asked(out, move, [4], 1);
    expect(
      corrected(pieceOn(moved))
        .notes.map(n => n.strike)
        .sort((a, b) => a - b),
    ).toEqual(
      corrected(pieceOn(out))
        .notes.map(n => n.strike)
        .sort((a, b) => a - b),
    );
    expect(corrected(pieceOn(moved)).notes.every(n => n.gliss === undefined)).toBe(true);
  });
});
