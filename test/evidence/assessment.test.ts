import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isAssessed,
  MOST_ANSWER,
  MOST_QUESTIONS,
  NO_ASSESSMENT,
  withAnswer,
  withJudgement,
} from '../../core/piece/assessment.ts';

describe('what is said of a piece', () => {
  it('is put in place of what was said before to the same question, and leaves the others', () => {
    const two = withAnswer(withAnswer(NO_ASSESSMENT, 'A?', 'one'), 'B?', 'two');
    expect(withAnswer(two, 'A?', 'three').answers).toEqual([
      { to: 'A?', words: 'three' },
      { to: 'B?', words: 'two' },
    ]);
    expect(withAnswer(two, 'A?', ' \n ').answers).toEqual([{ to: 'B?', words: 'two' }]);
    const judged = withJudgement(withJudgement(two, 'Rhythm', 'secure'), 'Rhythm', 'very secure');
    expect(judged.judgements).toEqual([{ criterion: 'Rhythm', words: 'very secure' }]);
    expect(judged.answers).toBe(two.answers);
  });

  it('takes twenty questions and no more; those that are there can still be answered anew', () => {
    const ask = (from: number, to: number, words: string, start = NO_ASSESSMENT) =>
      Array.from({ length: to - from }, (_, i) => `Question ${String(from + i)}`).reduce(
        (so, question) => withAnswer(so, question, words),
        start,
      );
    const full = ask(0, 25, 'one');
    expect(full.answers.map(one => one.to)).toEqual(
      Array.from({ length: 20 }, (_, i) => `Question ${String(i)}`),
    );
    expect(ask(0, 25, 'two', full).answers.map(one => one.words)).toEqual(Array(20).fill('two'));
  });

  it('law: never comes to more than a piece may carry, whatever is typed', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 6000 })), {
          maxLength: 60,
        }),
        typed => {
          const all = typed.reduce(
            (so, [question, length]) => withAnswer(so, `Question ${String(question)}`, 'a'.repeat(length)),
            NO_ASSESSMENT,
          );
          expect(all.answers.length).toBeLessThanOrEqual(MOST_QUESTIONS);
          for (const { words } of all.answers) {
            expect(words.length).toBeGreaterThan(0);
            expect(words.length).toBeLessThanOrEqual(MOST_ANSWER);
          }
          expect(new Set(all.answers.map(one => one.to)).size).toBe(all.answers.length);
          expect(isAssessed(all)).toBe(all.answers.length > 0);
        },
      ),
      { seed: 20261127, numRuns: 100 },
    );
  });

  it('is nothing until something was said, by whomever', () => {
    expect(isAssessed(undefined)).toBe(false);
    expect(isAssessed(NO_ASSESSMENT)).toBe(false);
    expect(isAssessed({ ...NO_ASSESSMENT, feedback: 'Go on.' })).toBe(true);
    expect(isAssessed(withJudgement(NO_ASSESSMENT, 'Rhythm', 'secure'))).toBe(true);
  });
});
