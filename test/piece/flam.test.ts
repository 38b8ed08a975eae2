import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { detach, editByHand } from '../../core/growing/detach.ts';
import { findStatement } from '../../core/plan/plan.ts';
import { passageOf } from '../../core/plan/statement.ts';
import { corrected, motifOf, newPiece, type Piece, pieceScore, planOf } from '../../core/piece/piece.ts';
import { readTake } from '../../core/reading/read.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import type { Take } from '../../core/take/take.ts';

/** Four crotchets at 120, the second with a flam: the same bar struck softly 40 ms before. */
const take: Take = {
  id: 'flam',
  capturedAt: '2026-01-01T00:00:00.000Z',
  source: 'midi',
  from: 'pad',
  click: { metre: metre(4, 4), beats: [0, 0.5, 1, 1.5, 2] },
  latency: 0,
  lengthsMean: false,
  strikes: [
    { at: 0, pitch: 72, velocity: 90 },
    { at: 0.46, pitch: 74, velocity: 50 },
    { at: 0.5, pitch: 74, velocity: 95 },
    { at: 1, pitch: 76, velocity: 90 },
    { at: 1.5, pitch: 77, velocity: 90 },
  ],
};

const piece = (): Piece => {
  const [best] = readTake(take);
  if (best === undefined) throw new Error('nothing read');
  return newPiece(
    { id: 'p', title: 'Idea', codeName: 'Wren', className: '8', instrument: 'xylophone', take, hints: {} },
    best,
  );
};

const graces = (now: Piece): string[] =>
  pieceScore(now)
    .parts.flatMap(part => part.bars.flatMap(bar => bar.symbols))
    .flatMap(symbol => (symbol.grace ?? []).map(pitchName));

describe('a flam that was played', () => {
  it('is part of the motif, and so of the piece', () => {
    expect(corrected(piece()).notes.filter(n => n.grace !== undefined)).toHaveLength(1);
    expect(motifOf(piece()).notes.filter(n => n.grace !== undefined)).toHaveLength(1);
    expect(graces(piece())).toEqual(['D5']);
  });

  it('goes with its note when the note gets another pitch', () => {
    const raised: Piece = { ...piece(), edits: [{ kind: 'pitch', note: 2, pitch: 79 }] };
    expect(graces(raised)).toEqual(['G5']);
  });

  it('goes with its note when a detached note is moved by hand', () => {
    const motif = motifOf(piece());
    const plan = detach(motif, planOf(piece()), 's1');
    const statement = findStatement(
      editByHand(motif, plan, 's1', { kind: 'steps', note: 1, steps: 2 }),
      's1',
    );
    if (statement === undefined) throw new Error('the statement is gone');
    const [, note] = passageOf(motif, statement).notes;
    expect(note?.onset).toEqual(fraction(1, 4));
    expect(note?.grace).toEqual({ degree: note?.degree, alter: note?.alter });
  });
});
