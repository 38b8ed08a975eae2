/** A pupil's answer to a question of the teacher's; the question is kept with it, so that both are understood later. */
export interface ReviewAnswer {
  readonly to: string;
  readonly words: string;
}

/** What a teacher says of one thing she looked at, in her own words or marks. */
export interface Judgement {
  readonly criterion: string;
  readonly words: string;
}

/** What was said about a piece: by its pupil, and by the teacher. Nothing of it changes a note. */
export interface Assessment {
  readonly answers: readonly ReviewAnswer[];
  readonly judgements: readonly Judgement[];
  readonly feedback: string;
}

export const NO_ASSESSMENT: Assessment = { answers: [], judgements: [], feedback: '' };

/** Questions and criteria that one piece may carry, and letters that each text may have. */
export const MOST_QUESTIONS = 20;
export const MOST_ANSWER = 4000;

const put = <T extends { readonly words: string }>(
  all: readonly T[],
  isIt: (one: T) => boolean,
  fresh: T,
): readonly T[] => {
  if (fresh.words.trim() === '') return all.filter(one => !isIt(one));
  if (all.some(isIt)) return all.map(one => (isIt(one) ? fresh : one));
  // A full sheet takes no more; what is there stays.
  return all.length < MOST_QUESTIONS ? [...all, fresh] : all;
};

/**
 * An answer, in place of the one before to the same question; nothing but spaces takes it away.
 * @param words at most 4000 letters; more is cut off
 * @example
 * withAnswer(NO_ASSESSMENT, 'What would you change?', 'The end.').answers // => [{ to: 'What would you change?', words: 'The end.' }]
 * withAnswer(withAnswer(NO_ASSESSMENT, 'Why?', 'So.'), 'Why?', ' ') // => NO_ASSESSMENT
 */
export const withAnswer = (assessment: Assessment, to: string, words: string): Assessment => ({
  ...assessment,
  answers: put(assessment.answers, one => one.to === to, { to, words: words.slice(0, MOST_ANSWER) }),
});

/**
 * What the teacher says of one criterion, in place of what she said before; nothing but spaces takes it away.
 * @param words at most 4000 letters; more is cut off
 * @example
 * withJudgement(NO_ASSESSMENT, 'Rhythm', 'secure').judgements // => [{ criterion: 'Rhythm', words: 'secure' }]
 */
export const withJudgement = (assessment: Assessment, criterion: string, words: string): Assessment => ({
  ...assessment,
  judgements: put(assessment.judgements, one => one.criterion === criterion, {
    criterion,
    words: words.slice(0, MOST_ANSWER),
  }),
});

/** Whether anything was said. */
export const isAssessed = (assessment: Assessment | undefined): boolean =>
  assessment !== undefined &&
  (assessment.answers.length > 0 || assessment.judgements.length > 0 || assessment.feedback !== '');
