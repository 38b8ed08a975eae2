import { describe, expect, it } from 'vitest';
import {
  answer,
  askCriteria,
  askLength,
  askQuestions,
  giveFeedback,
  judge,
} from '../../../renderer/desk/commands/assessment.ts';
import { undoStep } from '../../../renderer/desk/commands/step.ts';
import { FIRST_DESK } from '../../../renderer/desk/state.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, pieceOn, stepsOf, withPiece } from '../pieces.ts';

describe('what is said of the piece on the desk', () => {
  it('is a step that can be undone, and no step where nothing changed', () => {
    const desk = withPiece();
    const said = after(
      after(after(desk, answer, 'Why?', 'So.'), judge, 'Rhythm', 'secure'),
      giveFeedback,
      'Go on.',
    );
    const now = said.document.history?.present.piece;
    expect(now?.assessment).toEqual({
      answers: [{ to: 'Why?', words: 'So.' }],
      judgements: [{ criterion: 'Rhythm', words: 'secure' }],
      feedback: 'Go on.',
    });
    // Not a note of the music.
    expect({ ...now, assessment: undefined }).toEqual({
      ...desk.document.history?.present.piece,
      assessment: undefined,
    });
    expect(after(said, giveFeedback, 'Go on.')).toBe(said);
    expect(after(said, undoStep).document.history?.present.piece.assessment?.feedback).toBe('');
  });

  it('goes on while it is typed, and one undo takes back all that was typed, but nothing before it', () => {
    const before = after(withPiece(), answer, 'How?', 'Well.');
    const typed = ['S', 'So', 'So be it.'].reduce(
      (desk, words, i) => after(desk, answer, 'Why?', words, i > 0),
      before,
    );
    expect(stepsOf(typed)).toBe(stepsOf(before) + 1);
    const said = (desk: DeskState) => pieceOn(desk).assessment?.answers.map(one => one.words);
    expect(said(typed)).toEqual(['Well.', 'So be it.']);
    expect(said(after(typed, undoStep))).toEqual(['Well.']);
    // After something else, or after an undo, it is a step of its own.
    const between = after(after(typed, giveFeedback, 'Go on.'), answer, 'Why?', 'So.', true);
    expect(stepsOf(between)).toBe(stepsOf(typed) + 2);
    const again = after(after(typed, undoStep), answer, 'Why?', 'Anew.', true);
    expect([stepsOf(again), said(again)]).toEqual([stepsOf(before) + 1, ['Well.', 'Anew.']]);
    expect(after(typed, answer, 'Why?', 'So be it.', true)).toBe(typed);
  });

  it('leaves nothing behind when all of it is taken away', () => {
    const emptied = after(after(withPiece(), giveFeedback, 'Go on.'), giveFeedback, '  \n');
    expect(emptied.document.history?.present.piece).not.toHaveProperty('assessment');
  });
});

describe('what a teacher asks of every piece', () => {
  it('is a line each, without empty ones and without the same twice', () => {
    const asked = after(after(FIRST_DESK, askQuestions, ' Why?\n\nHow? \nWhy?'), askCriteria, 'Rhythm')
      .session.asked;
    expect(asked.questions).toEqual(['Why?', 'How?']);
    expect(asked.criteria).toEqual(['Rhythm']);
    const many = Array.from({ length: 50 }, (_, i) => `${String(i)} ${'a'.repeat(300)}`).join('\n');
    const limited = after(FIRST_DESK, askQuestions, many).session.asked.questions;
    expect([limited.length, limited[0]?.length]).toEqual([20, 200]);
  });

  it('has its length in order and within an hour, or none', () => {
    const length = (least: number, most: number) =>
      after(FIRST_DESK, askLength, { least, most }).session.asked.length;
    expect(length(210, 60)).toEqual({ least: 60, most: 210 });
    expect(length(-5, 1e9)).toEqual({ least: 0, most: 3600 });
    expect(length(10.4, 10.6)).toEqual({ least: 10, most: 11 });
    expect(after(FIRST_DESK, askLength, undefined).session.asked.length).toBeUndefined();
  });
});
