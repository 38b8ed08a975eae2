import { z } from '../foundation/schema.ts';
import type { Fraction } from '../foundation/fraction.ts';
import type { NoteName } from '../foundation/enharmonic.ts';
import { isWritable, type Key, MODE_NAMES, type ScalePitch } from '../foundation/key.ts';
import type { MetreChange } from '../foundation/barring.ts';
import type { Metre } from '../foundation/metre.ts';
import { LETTERS } from '../foundation/pitch.ts';
import type { Ornament } from '../motif/vary.ts';
import type { MotifNote } from '../motif/motif.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { MALLET_IDS } from '../instruments/mallets.ts';
import { MOST_NOTES_AT_ONCE } from '../plan/accompaniment.ts';
import { FARTHEST_KEY } from '../plan/keys.ts';
import { NOTE_MARKS, type NoteMark } from '../plan/noteMarks.ts';
import { MOST_PARTS, type Part, type Pause, type Plan } from '../plan/plan.ts';
import type { Statement } from '../plan/statement.ts';
import { type KeptPart, type KeptPlaying, MOST_PLAYINGS } from '../piece/keptPlaying.ts';
import type { BarRange, MotifCut } from '../piece/motifOfReading.ts';
import type { Piece } from '../piece/piece.ts';
import type { GraceStroke, Hints, Reading, ReadNote, SeenPage, Swing } from '../reading/model/reading.ts';
import type { Click, Strike, Take } from '../take/take.ts';
import { assessmentShape } from './assessmentShape.ts';
import { SAFE_NAME } from './paths.ts';
import {
  MOST_FIGURE,
  MOST_RUFF,
  MOST_KEYS,
  MOST_LETTERS,
  MOST_METRES,
  MOST_STORED_NOTES,
  MOST_SECONDS,
  MOST_SEMIBREVES,
  MOST_STEPS,
  MOST_TIMES,
  TEMPI,
} from './limits.ts';

// `satisfies` over the keys of each type makes a forgotten field a compile error; strict objects
// make an unknown one a refusal, so that nothing is ever dropped in silence.
type Fields<T> = Readonly<Record<keyof T, z.ZodType>>;

const text = z.string().max(MOST_LETTERS);
const number = z.number();
const seconds = z.number().min(-MOST_SECONDS).max(MOST_SECONDS);
const tempoFigure = z.number().min(TEMPI.least).max(TEMPI.most);
const whole = z.int().min(-MOST_FIGURE).max(MOST_FIGURE);
const pitch = z.int().min(0).max(127);
const strikeIndex = z.int().min(0).max(MOST_FIGURE);
/** Steps of a scale, semitones, octaves: twice what the widest keyboard has. */
const interval = z.int().min(-254).max(254);
const bar = z
  .int()
  .min(-1)
  .max(MOST_SEMIBREVES * 16);
const fraction = z
  .strictObject({ n: whole, d: z.int().min(1).max(MOST_FIGURE) } satisfies Fields<Fraction>)
  .refine(({ n, d }) => Math.abs(n) <= MOST_SEMIBREVES * d, 'beyond the longest piece');
/** By how much note values are changed. */
const factor = fraction.refine(({ n, d }) => n > 0 && n <= 64 * d && d <= 64 * n, 'no augmentation');
const positions = <T extends z.ZodType>(one: T): z.ZodArray<T> => z.array(one).max(MOST_STORED_NOTES);
const steps = <T extends z.ZodType>(one: T): z.ZodArray<T> => z.array(one).max(MOST_STEPS);
const metre = z.strictObject({
  upper: z.int().min(1).max(24),
  lower: z.union([z.literal(1), z.literal(2), z.literal(4), z.literal(8), z.literal(16)]),
  groups: z.array(z.int().min(1).max(24)).max(24).exactOptional(),
} satisfies Fields<Metre>);
/** The metre of a later bar: whole, for bars are counted in it. */
const laterMetre = metre.refine(
  ({ upper, groups }) => groups === undefined || groups.reduce((so, n) => so + n, 0) === upper,
  'groups that are no bar',
);
/** A key, as pieces and class lists store it. */
export const keyShape = z.strictObject({
  tonic: z.strictObject({ letter: z.enum(LETTERS), alter: z.int().min(-2).max(2) }),
  mode: z.enum(MODE_NAMES),
} satisfies Fields<Key>);
const instrument = z.enum(Object.keys(INSTRUMENTS) as InstrumentId[]);
const mallet = z.enum(MALLET_IDS);

const strike = z.strictObject({
  at: seconds,
  pitch,
  velocity: number.min(0).max(127),
  nextBest: pitch.exactOptional(),
  until: seconds.exactOptional(),
} satisfies Fields<Strike>);
const click = z.strictObject({ metre, beats: positions(seconds) } satisfies Fields<Click>);
const take = z.strictObject({
  id: text,
  capturedAt: text,
  source: z.enum(['midi', 'screen', 'keys', 'microphone', 'file', 'mixed']),
  from: text,
  click: click.exactOptional(),
  latency: number.min(-10_000).max(10_000),
  strikes: positions(strike),
  lengthsMean: z.boolean(),
} satisfies Fields<Take>);

const grid = z.enum(['automatic', 'beat', 'half', 'quarter', 'eighth', 'triplet', 'sextuplet']);
const swing = z.strictObject({ ratio: number.min(0.05).max(20), unit: fraction } satisfies Fields<Swing>);
const noteName = z.strictObject({
  letter: z.enum(LETTERS),
  alter: z.int().min(-2).max(2),
} satisfies Fields<NoteName>);
const graceStroke = z.strictObject({ strike: strikeIndex, pitch } satisfies Fields<GraceStroke>);
const readNote = z.strictObject({
  onset: fraction,
  duration: fraction,
  pitch,
  strike: whole,
  doubt: number,
  elsewhere: z.array(fraction).max(MOST_STEPS).exactOptional(),
  grace: graceStroke.exactOptional(),
  ruff: z.array(graceStroke).min(1).max(MOST_RUFF).exactOptional(),
  roll: positions(strikeIndex).min(1).exactOptional(),
  name: noteName.exactOptional(),
} satisfies Fields<ReadNote>);
const reading = z.strictObject({
  metre,
  tempo: tempoFigure,
  upbeat: fraction,
  swing: swing.exactOptional(),
  grid,
  notes: positions(readNote),
  dropped: positions(strikeIndex),
  misfit: number,
  confidence: number,
  reason: text,
  beats: positions(seconds),
  firstBeat: whole,
  period: whole.exactOptional(),
} satisfies Fields<Reading>);
const seenPage = z.strictObject({
  metre,
  beats: positions(seconds).min(2),
  firstBeat: whole,
  swing: swing.exactOptional(),
  period: whole.exactOptional(),
  positions: positions(z.strictObject({ strike: strikeIndex, onset: fraction })),
} satisfies Fields<SeenPage>);
const hints = z.strictObject({
  metre: metre.exactOptional(),
  tempo: tempoFigure.exactOptional(),
  grid: grid.exactOptional(),
  swingTolerance: z.enum(['none', 'low', 'medium', 'high']).exactOptional(),
  pins: positions(z.strictObject({ strike: strikeIndex, onset: fraction })).exactOptional(),
  page: seenPage.exactOptional(),
  firstBeatStrike: strikeIndex.exactOptional(),
  taps: positions(seconds).exactOptional(),
  letRing: z.boolean().exactOptional(),
  free: z.boolean().exactOptional(),
} satisfies Fields<Hints>);

const edit = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('move'), note: whole, onset: fraction }),
  z.strictObject({ kind: z.literal('length'), note: whole, duration: fraction }),
  z.strictObject({ kind: z.literal('pitch'), note: whole, pitch }),
  z.strictObject({ kind: z.literal('respell'), note: whole, name: noteName }),
  z.strictObject({ kind: z.enum(['delete', 'rest', 'unroll', 'ungrace']), note: whole }),
  z.strictObject({ kind: z.literal('roll'), note: whole, more: positions(whole) }),
  z.strictObject({
    kind: z.literal('grace'),
    note: whole,
    from: z
      .array(whole)
      .min(1)
      .max(MOST_RUFF + 1),
  }),
  z.strictObject({ kind: z.literal('add'), note: whole, onset: fraction, duration: fraction, pitch }),
]);

const noteNumber = z.int().min(0).max(MOST_FIGURE);
const by = z.enum(['scale', 'semitone']);
const treatment = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('transpose'), by, steps: interval }),
  z.strictObject({ kind: z.literal('octave'), octaves: interval }),
  z.strictObject({ kind: z.literal('augment'), factor }),
  z.strictObject({ kind: z.literal('diminish'), factor }),
  z.strictObject({ kind: z.literal('invert'), by, axis: number.min(-512).max(512).exactOptional() }),
  z.strictObject({ kind: z.literal('retrograde') }),
  z.strictObject({ kind: z.literal('fragment'), from: fraction, to: fraction }),
  z.strictObject({ kind: z.enum(['pitches', 'lengths']), from: positions(noteNumber) }),
  z.strictObject({
    kind: z.literal('ornament'),
    ornaments: positions(
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
  onset: fraction,
  duration: fraction,
  degree,
  alter,
  grace: scalePitch.exactOptional(),
  ruff: z.array(scalePitch).min(1).max(MOST_RUFF).exactOptional(),
  roll: z.literal(true).exactOptional(),
  name: noteName.exactOptional(),
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
    kind: z.enum(['chord', 'ending']),
    steps: ownSteps,
    metre: laterMetre.exactOptional(),
  }),
]);
const statement = z.strictObject({
  id: text,
  part: text,
  motif: text.exactOptional(),
  onset: fraction,
  chain: z.array(treatment).max(64),
  times: z.int().min(1).max(MOST_TIMES),
  leader: text.exactOptional(),
  accompaniment: accompaniment.exactOptional(),
  detached: positions(motifNote).exactOptional(),
  dynamic: z.enum(['pp', 'p', 'mp', 'mf', 'f', 'ff']).exactOptional(),
  articulation: z.enum(['accent', 'staccato', 'tenuto']).exactOptional(),
  hairpin: z.enum(['crescendo', 'diminuendo']).exactOptional(),
  slurred: z.literal(true).exactOptional(),
  fermata: z.literal(true).exactOptional(),
  rolled: z.enum(['last', 'all']).exactOptional(),
  noteMarks: steps(
    z.strictObject({
      time: z.int().min(0).max(MOST_TIMES),
      note: noteNumber,
      mark: z.enum(NOTE_MARKS),
    } satisfies Fields<NoteMark>),
  ).exactOptional(),
  ritardando: z.literal(true).exactOptional(),
  words: text.exactOptional(),
} satisfies Fields<Statement>);
/** A change of key begins after the first bar, goes no farther than an octave, and has a signature that a page can hold. */
const laterBar = bar.min(1);
const keyChange = z.union([
  z.strictObject({ bar: laterBar, moved: z.int().min(-FARTHEST_KEY).max(FARTHEST_KEY) }),
  z.strictObject({
    bar: laterBar,
    signature: keyShape.refine(isWritable, 'more signs than a page can hold'),
  }),
]);
/** From one barline to another: sixteenths, and less than the longest bar. */
const pauseLength = fraction.refine(
  ({ n, d }) => n > 0 && 16 % d === 0 && n < 24 * d,
  'no pause before a bar',
);
const plan = z.strictObject({
  parts: z
    .array(
      z.strictObject({
        id: text,
        instrument,
        name: text.exactOptional(),
        balance: number.min(-1_000).max(1_000).exactOptional(),
        mallet: mallet.exactOptional(),
      } satisfies Fields<Part>),
    )
    .max(MOST_PARTS),
  statements: steps(statement),
  tempo: tempoFigure,
  tempi: steps(z.strictObject({ bar, tempo: tempoFigure })).exactOptional(),
  keys: z.array(keyChange).max(MOST_KEYS).exactOptional(),
  metres: z
    .array(z.strictObject({ bar: laterBar, metre: laterMetre } satisfies Fields<MetreChange>))
    .max(MOST_METRES)
    .exactOptional(),
  pauses: steps(
    z.strictObject({ bar: laterBar, length: pauseLength } satisfies Fields<Pause>),
  ).exactOptional(),
  letters: steps(z.strictObject({ bar, letter: text })),
  nextId: whole,
} satisfies Fields<Plan>);

const keptPlaying = z.strictObject({
  id: text,
  first: bar,
  last: bar,
  speed: number.min(0.1).max(10),
  parts: z.array(z.strictObject({ part: text, instrument, take } satisfies Fields<KeptPart>)).max(MOST_PARTS),
} satisfies Fields<KeptPlaying>);

const barRange = {
  from: bar,
  to: bar,
  without: positions(whole).exactOptional(),
  joined: z.literal(true).exactOptional(),
} satisfies Fields<BarRange>;

export const safeName = z.string().regex(SAFE_NAME).max(80);

/** The whole of a piece, as the present version stores it. */
export const pieceShape: z.ZodType<Piece> = z.strictObject({
  id: safeName,
  title: text,
  codeName: text,
  className: text,
  instrument,
  mallet: mallet.exactOptional(),
  take,
  hints,
  reading,
  edits: steps(edit),
  key: keyShape,
  keyChosen: z.boolean(),
  motifBars: z.strictObject(barRange).exactOptional(),
  moreMotifs: steps(z.strictObject({ ...barRange, id: text } satisfies Fields<MotifCut>)).exactOptional(),
  plan: plan.exactOptional(),
  playings: z.array(keptPlaying).max(MOST_PLAYINGS).exactOptional(),
  assessment: assessmentShape.exactOptional(),
} satisfies Fields<Piece>);
