import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeSaved, encodeSaved } from '../../core/library/saved.ts';
import { gridUnit, nextGridPosition } from '../../core/piece/gridPositions.ts';
import { newPiece, type Piece } from '../../core/piece/piece.ts';
import { reread, successor, withPins, withRepeats } from '../../core/piece/rereading.ts';
import type { Hints, Reading } from '../../core/reading/model/reading.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Take } from '../../core/take/take.ts';
import { demoTakes, takeAndHints } from './anyTake.ts';

const sha256 = (bytes: Uint8Array): Promise<string> =>
  Promise.resolve(createHash('sha256').update(bytes).digest('hex'));

const pieceOf = (take: Take, hints: Hints, reading: Reading): Piece =>
  newPiece(
    { id: 'p', title: 'T', codeName: 'Otter', className: '7B', instrument: 'xylophone', take, hints },
    reading,
  );

/** Kept in the class library and opened again: the very same piece. */
const survives = async (piece: Piece): Promise<void> => {
  const saved = { id: piece.id, revision: 'r', parents: [], savedAt: '2026-01-01T00:00:00.000Z', piece };
  const bytes = await encodeSaved(saved, sha256);
  expect(bytes.ok ? '' : bytes.problem.detail).toBe('');
  if (!bytes.ok) return;
  const opened = await decodeSaved(bytes.value, 'p', sha256);
  expect(opened.ok && opened.value.piece).toEqual(piece);
};

describe('every reading can be kept and opened again', () => {
  it('whatever was struck and whatever the teacher said', async () => {
    await fc.assert(
      fc.asyncProperty(takeAndHints, async ({ take, hints }) => {
        for (const reading of readTake(take, hints)) await survives(pieceOf(take, hints, reading));
      }),
      { numRuns: 30, seed: 20261126 },
    );
  });

  it('the first note put later over and over, past its neighbours', async () => {
    for (const take of demoTakes) {
      for (const hints of [{}, { free: true }]) {
        const [first] = readTake(take, hints);
        if (first === undefined) throw new Error('a demo take cannot be read');
        let piece = pieceOf(take, hints, first);
        for (let times = 0; times < 9; times++) {
          const note = piece.reading.notes.find(n => n.strike === 0);
          if (note === undefined) throw new Error('the first strike is not written');
          const onset = nextGridPosition(note.onset, gridUnit(piece.hints, piece.reading, note), 1);
          const next = withPins(piece, withRepeats(piece.reading, [{ strike: 0, onset }]));
          const found = readTake(take, next);
          const page = successor(piece.reading, true, found);
          if (page === undefined) throw new Error('nothing was read');
          piece = reread(piece, next, page);
          await survives(piece);
          for (const reading of found) await survives(pieceOf(take, next, reading));
        }
      }
    }
  });
});
