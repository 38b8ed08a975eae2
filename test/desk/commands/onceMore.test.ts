import { describe, expect, it } from 'vitest';
import { fraction, toNumber } from '../../../core/foundation/fraction.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { readTake } from '../../../core/reading/read.ts';
import type { Take } from '../../../core/take/take.ts';
import { onceMore } from '../../../renderer/desk/commands/onceMore.ts';
import { step, undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, withPiece } from '../pieces.ts';

const IDEA = takeOf('idea', [0, 1, 1.5, 2, 3, 4, 5, 6], [72, 74, 76, 77, 76, 79, 74, 72]);

/** The same idea minutes later, a little slower, by a hand that is not quite the same; some strikes on other bars. */
const again = (others: Readonly<Record<number, number>> = {}): Take => ({
  ...IDEA,
  id: 'again',
  strikes: IDEA.strikes.map((s, i) => ({
    ...s,
    at: 80 + 1.15 * s.at + ((i * 7) % 5) / 300,
    pitch: others[i] ?? s.pitch,
  })),
});

const asked = (desk: DeskState, other: Take, later = desk): DeskState => {
  const ask = onceMore(desk, other);
  if (!ask.ok || ask.value === undefined) throw new Error('nothing asked');
  const done = ask.value.then(
    later,
    ask.value.questions.map(q => readTake(q.take, q.hints)),
  );
  if (!done.ok) throw new Error(done.problem.what);
  return done.value;
};
const problemOf = (desk: DeskState, other: Take): string => {
  const ask = onceMore(desk, other);
  return ask.ok ? '' : ask.problem.what;
};

describe('an idea played once more', () => {
  it('is read together with the first playing, in one step that can be undone', () => {
    const desk = withPiece(pieceOf(IDEA));
    const both = asked(desk, again());
    const piece = pieceOn(both);
    expect(piece.take.strikes).toHaveLength(16);
    expect(piece.take.strikes.slice(0, 8)).toEqual(IDEA.strikes);
    expect(piece.take.id).toBe('again');
    expect(piece.reading.notes).toHaveLength(16);
    expect(piece.reading.period).toBe(2);
    expect(piece.reading.confidence).toBeGreaterThanOrEqual(pieceOn(desk).reading.confidence - 0.01);
    expect([stepsOf(both), lastStep(both)]).toEqual([1, 'once more']);
    expect([both.session.view, both.session.selectedNotes]).toEqual(['write', []]);
    expect(both.live.notice).toBe('Once more: 8 strikes agree, and both are read together.');
    expect(pieceOn(after(both, undoStep))).toBe(pieceOn(desk));
  });

  it('in three-four too the second playing begins whole bars after the first', () => {
    const pitches = [72, 74, 76, 77, 76, 74, 72, 79, 76, 72];
    const idea = takeOf('waltz', [0, 1, 2, 3, 4, 4.5, 5, 6, 7, 8], pitches, 3, metre(3, 4));
    const second = {
      ...idea,
      id: 'again',
      strikes: idea.strikes.map((s, i) => ({ ...s, at: s.at + 80 + (i % 3) / 200 })),
    };
    const { reading } = pieceOn(asked(withPiece(pieceOf(idea)), second));
    expect(reading.metre).toEqual(metre(3, 4));
    const [first, again] = [0, 10].map(i => toNumber(reading.notes[i]?.onset ?? fraction(1, 7)));
    expect(((again ?? NaN) - (first ?? NaN)) / 0.75).toBe(3);
  });

  it('what differs is chosen, in both playings', () => {
    const both = asked(withPiece(pieceOf(IDEA)), again({ 5: 81 }));
    expect(both.session.selectedNotes).toEqual([5, 13]);
    expect(both.live.notice).toBe(
      'Once more: 7 strikes agree, and both are read together. What differs is chosen on the page.',
    );
  });

  it('corrections by hand stay', () => {
    const desk = after(withPiece(pieceOf(IDEA)), step, 'lower it', old => ({
      ...old,
      edits: [{ kind: 'pitch', note: 2, pitch: 75 }],
    }));
    expect(pieceOn(asked(desk, again())).edits).toEqual(pieceOn(desk).edits);
  });

  it('another idea is no playing of it, nor is the playing itself, and nothing is changed', () => {
    const desk = withPiece(pieceOf(IDEA));
    const other = takeOf('other', [0, 1, 2, 3, 4], [60, 62, 64, 65, 67]);
    expect(problemOf(desk, other)).toMatch(/^That was another idea/);
    expect(problemOf(desk, { ...IDEA, id: 'same' })).toMatch(/^The page was read from this very playing/);
    expect(problemOf(desk, takeOf('few', [0, 1], [72, 74]))).toMatch(/^That was another idea/);
    expect(problemOf(EMPTY, again())).toMatch(/^There is no idea on the desk/);
  });

  it('the answer comes too late for another piece', () => {
    const later = withPiece(pieceOf(takeOf('other', [0, 1, 2, 3, 4], [60, 62, 64, 65, 67])));
    expect(asked(withPiece(pieceOf(IDEA)), again(), later)).toBe(later);
  });
});
