import { z } from '../foundation/schema.ts';
import type { Click, Strike, Take } from '../take/take.ts';
import {
  textShape,
  numberShape,
  secondsShape,
  pitchShape,
  longListOf,
  metreShape,
  type Fields,
} from './figureShapes.ts';

const strike = z.strictObject({
  at: secondsShape,
  pitch: pitchShape,
  velocity: numberShape.min(0).max(127),
  nextBest: pitchShape.exactOptional(),
  perhapsNone: z.literal(true).exactOptional(),
  until: secondsShape.exactOptional(),
} satisfies Fields<Strike>);
const click = z.strictObject({ metre: metreShape, beats: longListOf(secondsShape) } satisfies Fields<Click>);
/** A take, as pieces and what was played along store it. */
export const takeShape = z.strictObject({
  id: textShape,
  capturedAt: textShape,
  source: z.enum(['midi', 'screen', 'keys', 'microphone', 'file', 'mixed']),
  from: textShape,
  click: click.exactOptional(),
  latency: numberShape.min(-10_000).max(10_000),
  strikes: longListOf(strike),
  lengthsMean: z.boolean(),
} satisfies Fields<Take>);
