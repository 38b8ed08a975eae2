import { describe, expect, it } from 'vitest';
import { corrected, motifOf, pieceScore } from '../../../core/piece/piece.ts';
import { textScore } from '../../../core/exchange/textScore.ts';
import { musicXml } from '../../../core/exchange/musicXml.ts';
import { gracesOn } from '../../../core/piece/graceEdits.ts';
import { perform } from '../../../core/playback/perform.ts';
import { toggleGraces } from '../../../renderer/desk/commands/graces.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { schema, schemaErrors } from '../../exchange/w3cSchema.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, takeOf, withPiece } from '../pieces.ts';

const plain = takeOf('drag', [0, 1, 1.82, 1.91, 2, 3], [72, 74, 76, 76, 76, 77]);
/** Crotchets, the third with a drag: two soft strokes on its bar, 45 ms apart. */
const DRAG = {
  ...plain,
  strikes: plain.strikes.map((s, i) => (i === 2 || i === 3 ? { ...s, velocity: 40 } : s)),
};
const leaning = takeOf('slide', [0, 1, 1.8, 1.9, 2, 3], [72, 79, 72, 74, 76, 77]);
/** The same with two soft strokes that lead up to the third, on other bars. */
const SLIDE = {
  ...leaning,
  strikes: leaning.strikes.map((s, i) => (i === 2 || i === 3 ? { ...s, velocity: 45 } : s)),
};
const told = (desk: DeskState): string[] =>
  corrected(pieceOn(desk)).notes.map(n => [...gracesOn(n).map(g => g.strike), n.strike].join('.'));

describe('a drag in Write', () => {
  it.each([
    ['on its own bar', DRAG],
    ['on the bars that lead to it', SLIDE],
  ])('%s is grace notes, written out and back by one action each, and undone', (_, take) => {
    const desk = withPiece(pieceOf(take));
    expect(told(desk)).toEqual(['0', '1', '2.3.4', '5']);
    const out = after(desk, toggleGraces, 4);
    expect([told(out), lastStep(out)]).toEqual([
      ['0', '1', '2', '3', '4', '5'],
      'write out the grace notes of E5',
    ]);
    expect(told(after(out, undoStep))).toEqual(told(desk));
    const back = after(out, toggleGraces, 4);
    expect([told(back), lastStep(back)]).toEqual([told(desk), 'grace notes to E5']);
    expect(corrected(pieceOn(back))).toEqual(corrected(pieceOn(desk)));
  });

  it('is heard, told, in MusicXML and in the motif', async () => {
    const piece = pieceOn(withPiece(pieceOf(SLIDE)));
    expect(motifOf(piece).notes[2]?.ruff).toHaveLength(1);
    const score = pieceScore(piece);
    expect(textScore(score).join(' ')).toContain('grace notes C5, D5 to E5 crotchet');
    const events = perform(score).events.filter(e => e.ref === undefined);
    const main = perform(score).events.find(e => e.ref?.endsWith(':2') === true);
    expect(events.map(e => Math.round(1000 * ((main?.seconds ?? 0) - e.seconds)))).toEqual([90, 45]);
    const xml = musicXml(score);
    expect(xml.match(/<grace slash="yes"\/>/g)).toHaveLength(2);
    expect(xml.match(/<beam number="1">begin<\/beam>/g)).toHaveLength(1);
    if (schema !== undefined) expect(await schemaErrors(new Map([['drag', xml]]))).toEqual([]);
  });

  it('a note without grace notes and with none before it stays', () => {
    const desk = withPiece();
    expect(after(desk, toggleGraces, 2)).toBe(desk);
    expect(after(desk, toggleGraces, 99)).toBe(desk);
    expect(after(EMPTY, toggleGraces, 0)).toBe(EMPTY);
  });
});
