import type { Score } from '../score/score.ts';

/**
 * A score for each player: one part, with the brackets, letters, tempi and repeats that stand in
 * the whole score, in the order of the parts.
 */
export const partScores = (score: Score): readonly Score[] =>
  score.parts.map(part => ({
    ...score,
    parts: [part],
    brackets: score.brackets.filter(bracket => bracket.part === part.id),
  }));
