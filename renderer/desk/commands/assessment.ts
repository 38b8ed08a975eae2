import { MOST_ASKED, type AskedLength } from '../../../core/evidence/lengthWords.ts';
import { ok } from '../../../core/foundation/result.ts';
import {
  type Assessment,
  isAssessed,
  MOST_ANSWER,
  MOST_QUESTIONS,
  NO_ASSESSMENT,
  withAnswer,
  withJudgement,
} from '../../../core/piece/assessment.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { Command } from '../command.ts';
import { withSession } from '../state.ts';
import { goOnWith, step } from './step.ts';

const assess =
  (change: (assessment: Assessment) => Assessment) =>
  (piece: Piece): Piece => {
    const before = piece.assessment ?? NO_ASSESSMENT;
    const after = change(before);
    if (JSON.stringify(before) === JSON.stringify(after)) return piece;
    const { assessment: _, ...rest } = piece;
    return isAssessed(after) ? { ...rest, assessment: after } : rest;
  };

// Words are taken over while they are typed: nothing typed is lost with the window. `goesOn` says that the same words
// were taken over before, so that one undo takes back all of them.

/** The pupil's answer to one question; an empty one takes it away. */
export const answer: Command<[to: string, words: string, goesOn?: boolean]> = (desk, to, words, goesOn) =>
  (goesOn === true ? goOnWith : step)(
    desk,
    'review',
    assess(old => withAnswer(old, to, words)),
  );

/** What the teacher says of one criterion; nothing takes it away. */
export const judge: Command<[criterion: string, words: string, goesOn?: boolean]> = (
  desk,
  criterion,
  words,
  goesOn,
) =>
  (goesOn === true ? goOnWith : step)(
    desk,
    'assessment',
    assess(old => withJudgement(old, criterion, words)),
  );

/** What the teacher says of the piece. */
export const giveFeedback: Command<[words: string, goesOn?: boolean]> = (desk, words, goesOn) =>
  (goesOn === true ? goOnWith : step)(
    desk,
    'feedback',
    assess(old => ({ ...old, feedback: words.trim() === '' ? '' : words.slice(0, MOST_ANSWER) })),
  );

/** Longest question or criterion. */
const MOST_ASKED_LETTERS = 200;

/** One question or criterion a line; empty lines and what is there already are left out. */
const linesOf = (typed: string): readonly string[] =>
  [...new Set(typed.split('\n').map(line => line.trim().slice(0, MOST_ASKED_LETTERS)))]
    .filter(line => line !== '')
    .slice(0, MOST_QUESTIONS);

/** What pupils are asked in their review, a line each. */
export const askQuestions: Command<[typed: string]> = (desk, typed) =>
  ok(withSession(desk, { asked: { ...desk.session.asked, questions: linesOf(typed) } }));

/** What the teacher looks at, a line each. */
export const askCriteria: Command<[typed: string]> = (desk, typed) =>
  ok(withSession(desk, { asked: { ...desk.session.asked, criteria: linesOf(typed) } }));

/** How long pieces should be, in seconds; undefined where nothing is asked. The longer of both is the most. */
export const askLength: Command<[length: AskedLength | undefined]> = (desk, length) => {
  if (length === undefined) return ok(withSession(desk, { asked: { ...desk.session.asked, length } }));
  const within = (seconds: number): number => Math.min(MOST_ASKED, Math.max(0, Math.round(seconds)));
  const [least, most] = [within(length.least), within(length.most)];
  return ok(
    withSession(desk, {
      asked: {
        ...desk.session.asked,
        length: { least: Math.min(least, most), most: Math.max(least, most) },
      },
    }),
  );
};
