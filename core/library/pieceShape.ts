import { z } from '../foundation/schema.ts';
import { MOST_PARTS } from '../plan/plan.ts';
import { type KeptPart, type KeptPlaying, MOST_PLAYINGS } from '../piece/keptPlaying.ts';
import type { BarRange, MotifCut } from '../piece/motifOfReading.ts';
import type { Piece } from '../piece/piece.ts';
import { assessmentShape } from './assessmentShape.ts';
import { SAFE_NAME } from './paths.ts';
import {
  textShape,
  numberShape,
  wholeShape,
  barShape,
  longListOf,
  listOf,
  instrumentShape,
  malletShape,
  keyShape,
  type Fields,
} from './figureShapes.ts';
import { takeShape } from './takeShape.ts';
import { readingShape, hintsShape, editShape } from './readingShape.ts';
import { planShape } from './planShape.ts';

const keptPlaying = z.strictObject({
  id: textShape,
  first: barShape,
  last: barShape,
  speed: numberShape.min(0.1).max(10),
  parts: z
    .array(
      z.strictObject({
        part: textShape,
        instrument: instrumentShape,
        take: takeShape,
      } satisfies Fields<KeptPart>),
    )
    .max(MOST_PARTS),
} satisfies Fields<KeptPlaying>);

const barRange = {
  from: barShape,
  to: barShape,
  without: longListOf(wholeShape).exactOptional(),
  joined: z.literal(true).exactOptional(),
  closed: z.literal(true).exactOptional(),
} satisfies Fields<BarRange>;

export const safeName = z.string().regex(SAFE_NAME).max(80);

/** The whole of a piece, as the present version stores it. */
export const pieceShape: z.ZodType<Piece> = z.strictObject({
  id: safeName,
  title: textShape,
  codeName: textShape,
  className: textShape,
  instrument: instrumentShape,
  mallet: malletShape.exactOptional(),
  take: takeShape,
  hints: hintsShape,
  reading: readingShape,
  edits: listOf(editShape),
  key: keyShape,
  keyChosen: z.boolean(),
  motifBars: z.strictObject(barRange).exactOptional(),
  moreMotifs: listOf(
    z.strictObject({ ...barRange, id: textShape } satisfies Fields<MotifCut>),
  ).exactOptional(),
  plan: planShape.exactOptional(),
  playings: z.array(keptPlaying).max(MOST_PLAYINGS).exactOptional(),
  assessment: assessmentShape.exactOptional(),
} satisfies Fields<Piece>);
