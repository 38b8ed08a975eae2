import { z } from '../foundation/schema.ts';
import {
  type Assessment,
  type Judgement,
  MOST_ANSWER,
  MOST_QUESTIONS,
  type ReviewAnswer,
} from '../piece/assessment.ts';
import { MOST_LETTERS } from './limits.ts';

type Fields<T> = Readonly<Record<keyof T, z.ZodType>>;

const asked = z.string().max(MOST_LETTERS);
const words = z.string().max(MOST_ANSWER);

/** What was said of a piece, as its file stores it. */
export const assessmentShape = z.strictObject({
  answers: z.array(z.strictObject({ to: asked, words } satisfies Fields<ReviewAnswer>)).max(MOST_QUESTIONS),
  judgements: z
    .array(z.strictObject({ criterion: asked, words } satisfies Fields<Judgement>))
    .max(MOST_QUESTIONS),
  feedback: words,
} satisfies Fields<Assessment>);
