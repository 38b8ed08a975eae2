import { z } from '../foundation/schema.ts';
import {
  type Assessment,
  type Judgement,
  MOST_ANSWER,
  MOST_QUESTIONS,
  type ReviewAnswer,
} from '../piece/assessment.ts';
import { type Fields, textShape } from './figureShapes.ts';

const words = z.string().max(MOST_ANSWER);

/** What was said of a piece, as its file stores it. */
export const assessmentShape = z.strictObject({
  answers: z
    .array(z.strictObject({ to: textShape, words } satisfies Fields<ReviewAnswer>))
    .max(MOST_QUESTIONS),
  judgements: z
    .array(z.strictObject({ criterion: textShape, words } satisfies Fields<Judgement>))
    .max(MOST_QUESTIONS),
  feedback: words,
} satisfies Fields<Assessment>);
