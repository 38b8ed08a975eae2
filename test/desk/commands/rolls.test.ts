import { describe, expect, it } from 'vitest';
import { show } from '../../../core/foundation/fraction.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { corrected, motifOf } from '../../../core/piece/piece.ts';
import { hint } from '../../../renderer/desk/commands/reading.ts';
import { keepBar, move } from '../../../renderer/desk/commands/pins.ts';
import { toggleRoll } from '../../../renderer/desk/commands/rolls.ts';
import { redoStep, undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { asked } from '../asked.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, withPiece } from '../pieces.ts';

/** A crotchet, one of eight strokes on E5 (at 16 a second), and two crotchets more. */
const ROLLED = takeOf(
  'rolled',
  [0, ...Array.from({ length: 8 }, (_, i) => 1 + i / 8), 2, 3],
  [72, ...Array.from({ length: 8 }, () => 76), 79, 77],
);
/** The same with C6 in turn. */
const IN_TURN = {
  ...ROLLED,
  id: 'turn',
  strikes: ROLLED.strikes.map((s, i) => (i > 0 && i < 9 && i % 2 === 0 ? { ...s, pitch: 84 } : s)),
};
const told = (desk: DeskState): readonly string[] =>
  corrected(pieceOn(desk)).notes.map(
    n => `${show(n.onset)} ${String(n.pitch)}${n.roll === undefined ? '' : ` r${String(n.roll.length)}`}`,
  );
const AS_ROLL = ['0 72', '1/4 76 r8', '1/2 79', '3/4 77'];
const rolled = (): DeskState => withPiece(pieceOf(ROLLED));

describe('a roll in Write', () => {
  it('is written out and back by one action each, and undone', () => {
    const desk = rolled();
    expect(told(desk)).toEqual(AS_ROLL);
    const out = after(desk, toggleRoll, [1]);
    expect([told(out).length, told(out)[2], lastStep(out), stepsOf(out)]).toEqual([
      11,
      '9/32 76',
      'write out the roll on E5',
      1,
    ]);
    expect(told(after(out, undoStep))).toEqual(AS_ROLL);
    expect(told(after(after(out, undoStep), redoStep))).toEqual(told(out));
    // From whichever stroke.
    for (const stroke of [1, 4, 8]) {
      const back = after(out, toggleRoll, [stroke]);
      expect([told(back), lastStep(back), stepsOf(back)]).toEqual([AS_ROLL, 'roll E5', 2]);
      expect(back.session.selectedNotes).toEqual([1]);
    }
  });

  it('of two bars is written out in turn, and back', () => {
    const desk = withPiece(pieceOf(IN_TURN));
    const page = ['0 72', '1/4 76 r4', '1/4 84 r4', '1/2 79', '3/4 77'];
    expect(told(desk)).toEqual(page);
    const out = after(desk, toggleRoll, [2]);
    expect(told(out).slice(1, 5)).toEqual(['1/4 76', '9/32 84', '5/16 76', '11/32 84']);
    expect(told(after(out, toggleRoll, [3]))).toEqual(page);
  });

  it('is a sign on a note alone, and taken from it', () => {
    const one = after(rolled(), toggleRoll, [0]);
    expect(told(one)[0]).toBe('0 72 r1');
    expect(motifOf(pieceOn(one)).notes.map(n => n.roll === true)).toEqual([true, true, false, false]);
    expect(told(after(one, toggleRoll, [0]))).toEqual(AS_ROLL);
  });

  it('gathers the chosen notes, on two bars at most', () => {
    const desk = withPiece();
    const two = after(desk, toggleRoll, [0, 1]);
    expect(told(two).slice(0, 3)).toEqual(['0 72 r1', '0 74 r1', '1/2 76']);
    const three = toggleRoll(desk, [0, 1, 2]);
    expect(three).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
  });

  it('with more strokes than can be written stays one, and says so', () => {
    const many = takeOf(
      'many',
      [0, ...Array.from({ length: 24 }, (_, i) => 1 + i / 12), 3],
      [72, ...Array.from({ length: 24 }, () => 76), 79],
    );
    const slow = { ...many, click: { metre: metre(4, 4), beats: [0, 1, 2, 3, 4] } };
    const desk = withPiece(pieceOf(slow));
    expect(told(desk)[1]).toBe('1/8 76 r24');
    expect(toggleRoll(desk, [1])).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
  });

  it('of nothing is nothing', () => {
    expect(after(EMPTY, toggleRoll, [0])).toBe(EMPTY);
    const desk = rolled();
    expect(after(desk, toggleRoll, [])).toBe(desk);
    expect(after(desk, toggleRoll, [99])).toBe(desk);
  });

  it('stays what it was made when other notes are put elsewhere, and when it is moved itself', () => {
    const out = after(rolled(), toggleRoll, [1]);
    const other = asked(out, move, [10], 1).desk;
    expect(told(other)).toEqual([...told(out).slice(0, -1), '13/16 77']);
    const stroke = asked(out, move, [8], 1).desk;
    expect(told(stroke).filter(n => n.endsWith(' 76'))).toHaveLength(8);
    expect(told(stroke).slice(0, 8)).toEqual(told(out).slice(0, 8));
    const kept = asked(out, keepBar, [0]).desk;
    expect(told(kept)).toEqual(told(out));
    const made = after(after(rolled(), toggleRoll, [1]), toggleRoll, [1]);
    expect(told(asked(made, move, [10], 1).desk)).toEqual([...AS_ROLL.slice(0, -1), '13/16 77']);
    const moved = asked(made, move, [1], 1).desk;
    expect(told(moved)).toEqual(['0 72', '5/16 76 r8', '1/2 79', '3/4 77']);
  });

  it('that the reader wrote as notes is moved as the one note it was made', () => {
    const notes = takeOf('semis', [0, 1, 1.25, 1.5, 1.75, 2, 3], [72, 76, 76, 76, 76, 79, 77]);
    const made = after(withPiece(pieceOf(notes)), toggleRoll, [2]);
    expect(told(made)).toEqual(['0 72', '1/4 76 r4', '1/2 79', '3/4 77']);
    const moved = asked(made, move, [1], 1).desk;
    expect(told(moved)).toEqual(['0 72', '5/16 76 r4', '1/2 79', '3/4 77']);
    expect(pieceOn(moved).hints.pins).toBeUndefined();
  });

  it('goes along when the reader reads in another metre', () => {
    const out = after(rolled(), toggleRoll, [1]);
    const other = asked(out, hint, 'in 3/4', { metre: metre(3, 4) }).desk;
    expect(pieceOn(other).reading.metre.upper).toBe(3);
    expect(told(other)).toHaveLength(11);
  });
});
