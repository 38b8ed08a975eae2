import { z } from '../foundation/schema.ts';
import type {
  GraceStroke,
  Hints,
  ReadGlissando,
  Reading,
  ReadNote,
  SeenPage,
  Swing,
} from '../reading/model/reading.ts';
import { MOST_DRAWN, MOST_RUFF, MOST_STEPS } from './limits.ts';
import {
  textShape,
  numberShape,
  secondsShape,
  tempoShape,
  wholeShape,
  pitchShape,
  strikeIndexShape,
  fractionShape,
  longListOf,
  metreShape,
  noteNameShape,
  type Fields,
} from './figureShapes.ts';

const grid = z.enum(['automatic', 'beat', 'half', 'quarter', 'eighth', 'triplet', 'sextuplet']);
const swing = z.strictObject({
  ratio: numberShape.min(0.05).max(20),
  unit: fractionShape.refine(({ n, d }) => n > 0 && n <= d, 'no pair of notes to swing'),
} satisfies Fields<Swing>);
const graceStroke = z.strictObject({
  strike: strikeIndexShape,
  pitch: pitchShape,
} satisfies Fields<GraceStroke>);
/** Strokes of a line over bars; one written while it is played has no number. */
const readGlissando = z.strictObject({
  strokes: z.array(graceStroke).min(1).max(MOST_DRAWN),
  to: pitchShape,
} satisfies Fields<ReadGlissando>);
const readNote = z.strictObject({
  onset: fractionShape,
  duration: fractionShape,
  pitch: pitchShape,
  strike: wholeShape,
  doubt: numberShape,
  elsewhere: z.array(fractionShape).max(MOST_STEPS).exactOptional(),
  grace: graceStroke.exactOptional(),
  ruff: z.array(graceStroke).min(1).max(MOST_RUFF).exactOptional(),
  roll: longListOf(strikeIndexShape).min(1).exactOptional(),
  gliss: readGlissando.exactOptional(),
  name: noteNameShape.exactOptional(),
} satisfies Fields<ReadNote>);
/** One reading of a take. */
export const readingShape = z.strictObject({
  metre: metreShape,
  tempo: tempoShape,
  upbeat: fractionShape,
  swing: swing.exactOptional(),
  grid,
  notes: longListOf(readNote),
  dropped: longListOf(strikeIndexShape),
  misfit: numberShape,
  confidence: numberShape,
  reason: textShape,
  beats: longListOf(secondsShape),
  firstBeat: wholeShape,
  period: wholeShape.exactOptional(),
} satisfies Fields<Reading>);
const seenPage = z.strictObject({
  metre: metreShape,
  beats: longListOf(secondsShape).min(2),
  firstBeat: wholeShape,
  swing: swing.exactOptional(),
  period: wholeShape.exactOptional(),
  positions: longListOf(z.strictObject({ strike: strikeIndexShape, onset: fractionShape })),
} satisfies Fields<SeenPage>);
/** What the teacher knows of it. */
export const hintsShape = z.strictObject({
  metre: metreShape.exactOptional(),
  tempo: tempoShape.exactOptional(),
  grid: grid.exactOptional(),
  swingTolerance: z.enum(['none', 'low', 'medium', 'high']).exactOptional(),
  pins: longListOf(z.strictObject({ strike: strikeIndexShape, onset: fractionShape })).exactOptional(),
  page: seenPage.exactOptional(),
  firstBeatStrike: strikeIndexShape.exactOptional(),
  taps: longListOf(secondsShape).exactOptional(),
  letRing: z.boolean().exactOptional(),
  free: z.boolean().exactOptional(),
} satisfies Fields<Hints>);

const heard = z.literal(true).exactOptional();
/** A correction over the reading, by hand or by hearing the take once more. */
export const editShape = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('move'), note: wholeShape, onset: fractionShape }),
  z.strictObject({ kind: z.literal('length'), note: wholeShape, duration: fractionShape }),
  z.strictObject({ kind: z.literal('pitch'), note: wholeShape, pitch: pitchShape, heard }),
  z.strictObject({ kind: z.literal('respell'), note: wholeShape, name: noteNameShape }),
  z.strictObject({ kind: z.literal('delete'), note: wholeShape, heard }),
  z.strictObject({ kind: z.enum(['rest', 'unroll', 'ungliss', 'ungrace']), note: wholeShape }),
  z.strictObject({ kind: z.literal('roll'), note: wholeShape, more: longListOf(wholeShape) }),
  z.strictObject({
    kind: z.literal('gliss'),
    note: wholeShape,
    more: z.array(wholeShape).max(MOST_DRAWN),
    into: wholeShape.exactOptional(),
  }),
  z.strictObject({
    kind: z.literal('grace'),
    note: wholeShape,
    from: z
      .array(wholeShape)
      .min(1)
      .max(MOST_RUFF + 1),
  }),
  z.strictObject({
    kind: z.literal('add'),
    note: wholeShape,
    onset: fractionShape,
    duration: fractionShape,
    pitch: pitchShape,
  }),
]);
