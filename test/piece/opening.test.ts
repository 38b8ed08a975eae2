import { expect, it } from 'vitest';
import { fraction, subtract } from '../../core/foundation/fraction.ts';
import { openingOf, readingScore } from '../../core/piece/piece.ts';
import { pieceOf, THRICE } from '../desk/pieces.ts';

it('the opening of a piece is its page so many bars far, an upbeat besides', () => {
  const whole = readingScore(pieceOf(THRICE));
  const opening = openingOf(pieceOf(THRICE), 2);
  expect([whole.barCount, opening.barCount]).toEqual([3, 2]);
  expect(opening.parts[0]?.bars).toEqual(whole.parts[0]?.bars.slice(0, 2));
  expect(openingOf(pieceOf(THRICE), 9)).toEqual(whole);

  const piece = pieceOf(THRICE);
  const quarter = fraction(1, 4);
  const notes = piece.reading.notes.map(n => ({ ...n, onset: subtract(n.onset, quarter) }));
  const upbeat = { ...piece.reading, upbeat: quarter, notes };
  expect(openingOf(piece, 1, upbeat).barCount).toBe(2);
  expect(openingOf(piece, 1, upbeat).parts[0]?.bars).toEqual(
    readingScore(piece, upbeat).parts[0]?.bars.slice(0, 2),
  );
});
