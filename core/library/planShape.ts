import { z } from '../foundation/schema.ts';
import { isWritable, type ScalePitch } from '../foundation/key.ts';
import type { MetreChange } from '../foundation/barring.ts';
import type { Ornament } from '../motif/vary.ts';
import type { Glissando } from '../motif/glissando.ts';
import type { MotifNote } from '../motif/motif.ts';
import { MOST_NOTES_AT_ONCE } from '../plan/accompaniment.ts';
import { FARTHEST_KEY, MOST_KEYS, MOST_METRES } from '../plan/keys.ts';
import { NOTE_MARKS, type NoteMark } from '../plan/noteMarks.ts';
import { MOST_PARTS, type Part, type Pause, type Plan } from '../plan/plan.ts';
import type { Statement } from '../plan/statement.ts';
import { MOST_FIGURE, MOST_RUFF, MOST_TIMES } from './limits.ts';
import {
  textShape,
  numberShape,
  tempoShape,
  wholeShape,
  barShape,
  fractionShape,
  longListOf,
  listOf,
  metreShape,
  instrumentShape,
  malletShape,
  noteNameShape,
  keyShape,
  type Fields,
} from './figureShapes.ts';

/** Steps of a scale, semitones, octaves: twice what the widest keyboard has. */
const interval = z.int().min(-254).max(254);
/** By how much note values are changed. */
const factor = fractionShape.refine(({ n, d }) => n > 0 && n <= 64 * d && d <= 64 * n, 'no augmentation');
/** The metre of a later bar: whole, for bars are counted in it. */
const laterMetre = metreShape.refine(
  ({ upper, groups }) => groups === undefined || groups.reduce((so, n) => so + n, 0) === upper,
  'groups that are no bar',
);
const noteNumber = z.int().min(0).max(MOST_FIGURE);
const by = z.enum(['scale', 'semitone']);
const treatment = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('transpose'), by, steps: interval }),
  z.strictObject({ kind: z.literal('octave'), octaves: interval }),
  z.strictObject({ kind: z.literal('augment'), factor }),
  z.strictObject({ kind: z.literal('diminish'), factor }),
  z.strictObject({ kind: z.literal('invert'), by, axis: numberShape.min(-512).max(512).exactOptional() }),
  z.strictObject({ kind: z.literal('retrograde') }),
  z.strictObject({ kind: z.literal('fragment'), from: fractionShape, to: fractionShape }),
  z.strictObject({ kind: z.enum(['pitches', 'lengths']), from: longListOf(noteNumber) }),
  z.strictObject({
    kind: z.literal('ornament'),
    ornaments: longListOf(
      z.strictObject({
        note: noteNumber,
        figure: z.enum(['twice', 'upper', 'lower', 'grace']),
      } satisfies Fields<Ornament>),
    ),
  }),
]);
/** Degrees of the scale counted as in `motif.ts`; a chromatic note lies that many semitones from one. */
const degree = z.int().min(-512).max(512);
const alter = z.int().min(-24).max(24);
const scalePitch = z.strictObject({ degree, alter } satisfies Fields<ScalePitch>);
const motifNote = z.strictObject({
  onset: fractionShape,
  duration: fractionShape,
  degree,
  alter,
  grace: scalePitch.exactOptional(),
  ruff: z.array(scalePitch).min(1).max(MOST_RUFF).exactOptional(),
  roll: z.literal(true).exactOptional(),
  gliss: z
    .strictObject({
      to: scalePitch,
      over: z.enum(['all', 'naturals']).exactOptional(),
    } satisfies Fields<Glissando>)
    .exactOptional(),
  name: noteNameShape.exactOptional(),
} satisfies Fields<MotifNote>);
const ownSteps = z.array(degree).min(1).max(MOST_NOTES_AT_ONCE);
const accompaniment = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('drone'),
    figure: z.enum(['simple', 'broken', 'crossover']),
    steps: ownSteps,
    metre: laterMetre.exactOptional(),
  }),
  z.strictObject({
    kind: z.literal('chord'),
    steps: ownSteps,
    metre: laterMetre.exactOptional(),
  }),
  z.strictObject({
    kind: z.literal('ending'),
    closed: z.literal(true).exactOptional(),
    steps: ownSteps,
    metre: laterMetre.exactOptional(),
  }),
]);
const statement = z.strictObject({
  id: textShape,
  part: textShape,
  motif: textShape.exactOptional(),
  onset: fractionShape,
  chain: z.array(treatment).max(64),
  times: z.int().min(1).max(MOST_TIMES),
  leader: textShape.exactOptional(),
  accompaniment: accompaniment.exactOptional(),
  detached: longListOf(motifNote).exactOptional(),
  dynamic: z.enum(['pp', 'p', 'mp', 'mf', 'f', 'ff']).exactOptional(),
  articulation: z.enum(['accent', 'staccato', 'tenuto']).exactOptional(),
  hairpin: z.enum(['crescendo', 'diminuendo']).exactOptional(),
  slurred: z.literal(true).exactOptional(),
  pedalled: z.literal(true).exactOptional(),
  fermata: z.literal(true).exactOptional(),
  rolled: z.enum(['last', 'all']).exactOptional(),
  noteMarks: listOf(
    z.strictObject({
      time: z.int().min(0).max(MOST_TIMES),
      note: noteNumber,
      mark: z.enum(NOTE_MARKS),
    } satisfies Fields<NoteMark>),
  ).exactOptional(),
  ritardando: z.literal(true).exactOptional(),
  words: textShape.exactOptional(),
} satisfies Fields<Statement>);
/** A change of key begins after the first bar, goes no farther than an octave, and has a signature that a page can hold. */
const laterBar = barShape.min(1);
const keyChange = z.union([
  z.strictObject({ bar: laterBar, moved: z.int().min(-FARTHEST_KEY).max(FARTHEST_KEY) }),
  z.strictObject({
    bar: laterBar,
    signature: keyShape.refine(isWritable, 'more signs than a page can hold'),
  }),
]);
/** From one barline to another: sixteenths, and less than the longest bar. */
const pauseLength = fractionShape.refine(
  ({ n, d }) => n > 0 && 16 % d === 0 && n < 24 * d,
  'no pause before a bar',
);
/** What was grown, as pieces store it. */
export const planShape = z.strictObject({
  parts: z
    .array(
      z.strictObject({
        id: textShape,
        instrument: instrumentShape,
        name: textShape.exactOptional(),
        balance: numberShape.min(-1_000).max(1_000).exactOptional(),
        mallet: malletShape.exactOptional(),
      } satisfies Fields<Part>),
    )
    .max(MOST_PARTS),
  statements: listOf(statement),
  tempo: tempoShape,
  tempi: listOf(z.strictObject({ bar: barShape, tempo: tempoShape })).exactOptional(),
  keys: z.array(keyChange).max(MOST_KEYS).exactOptional(),
  metres: z
    .array(z.strictObject({ bar: laterBar, metre: laterMetre } satisfies Fields<MetreChange>))
    .max(MOST_METRES)
    .exactOptional(),
  pauses: listOf(
    z.strictObject({ bar: laterBar, length: pauseLength } satisfies Fields<Pause>),
  ).exactOptional(),
  letters: listOf(z.strictObject({ bar: barShape, letter: textShape })),
  nextId: wholeShape,
} satisfies Fields<Plan>);
