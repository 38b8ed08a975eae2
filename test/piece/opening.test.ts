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

  // A line that leads to the first note after what is written ends there, as on the page.
  const leading = piece.reading.notes.map((n, i) => {
    const next = piece.reading.notes[i + 1];
    if (next === undefined || n.onset.n / n.onset.d >= 1 || next.onset.n / next.onset.d < 1) return n;
    const gliss = { to: next.pitch, strokes: [{ strike: n.strike, pitch: n.pitch }] };
    return { ...n, duration: subtract(next.onset, n.onset), gliss };
  });
  const drawn = { ...piece.reading, notes: leading };
  const page = readingScore(piece, drawn).parts[0]?.bars.slice(0, 1);
  expect(JSON.stringify(page)).toContain('gliss');
  expect(openingOf(piece, 1, drawn).parts[0]?.bars).toEqual(page);
});
