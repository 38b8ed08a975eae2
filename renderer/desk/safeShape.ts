import { z } from '../../core/foundation/schema.ts';
import { type AskedLength, MOST_ASKED } from '../../core/evidence/lengthWords.ts';
import { INSTRUMENT_IDS } from '../../core/instruments/instruments.ts';
import { MALLET_IDS } from '../../core/instruments/mallets.ts';
import { pieceShape } from '../../core/library/pieceShape.ts';
import { SPEED_RANGE } from '../../core/rehearse/tolerances.ts';
import { MOST_QUESTIONS } from '../../core/piece/assessment.ts';
import type { Pupil } from '../../core/piece/pupil.ts';
import type { HeardStrike } from '../../core/take/memory.ts';
import { STAVE_HEIGHTS } from '../page/options.ts';
import { roomShape } from '../storage/rooms.ts';
import type { Lying } from './document.ts';
import {
  type AskedOfPieces,
  FIRST_ASKED,
  FIRST_REHEARSAL,
  FIRST_SENDS,
  MOST_PITCHES,
  type HearSettings,
  type Pitching,
  type PlanNote,
  type PlaySettings,
  type RehearsalSettings,
  type SafeSession,
  type SendSettings,
  type Turn,
} from './session.ts';

type Fields<T> = Readonly<Record<keyof T, z.ZodType>>;
const text = z.string().max(200);
const ids = z.array(text).max(200);
const whole = z.int();
const under = z.array(z.enum(['letters', 'counts', 'syllables']));
const staveHeight = z.literal([...STAVE_HEIGHTS]);

const play = z.strictObject({
  instrument: z.enum(INSTRUMENT_IDS),
  // Absent in what was left before mallets could be chosen.
  mallets: z.partialRecord(z.enum(INSTRUMENT_IDS), z.enum(MALLET_IDS)).default({}),
  clickOn: z.boolean(),
  metre: z.strictObject({
    upper: z.int().min(1).max(24),
    lower: z.literal([1, 2, 4, 8, 16]),
    groups: z.array(whole).exactOptional(),
  }),
  // Absent in what was left before a metre could be chosen without a click.
  metreKnown: z.boolean().default(false),
  bpm: z.number().min(20).max(300),
  countInBars: z.int().min(0).max(4),
  lifted: z.array(z.int().min(0).max(11)).max(12),
  silence: z.number().min(0.1).max(60),
  keysPlay: z.boolean(),
  keysShown: z.boolean().default(false),
  drumsAsPitched: z.boolean(),
  // Absent in what was left before the page wrote itself.
  writesAlong: z.boolean().default(true),
} satisfies Fields<PlaySettings>);

const pupil = z.strictObject({ codeName: text, className: text } satisfies Fields<Pupil>);

/** The session as it is kept by itself. */
export const sessionShape: z.ZodType<SafeSession> = z.strictObject({
  view: z.enum(['play', 'write', 'grow', 'keep']),
  isPupilView: z.boolean().default(false),
  // Absent in what was left before a reload came back to rehearsing.
  isRehearsing: z.boolean().default(false),
  pupil: pupil.optional(),
  turns: z
    .array(z.strictObject({ pupil: pupil.optional(), after: z.number().optional() } satisfies Fields<Turn>))
    .max(200)
    .default([]),
  className: text.default(''),
  play,
  nameStyle: z.enum(['british', 'american']),
  pupilLanguage: z.enum(['en', 'de']).default('en'),
  keyShortcuts: z.boolean(),
  phrasesToCatch: z.int().min(1).max(999),
  selectedNotes: z.array(whole),
  selectedStatement: text.optional(),
  selectedPlanNote: z
    .strictObject({ statement: text, index: whole, time: whole.exactOptional() } satisfies Fields<PlanNote>)
    .optional(),
  // Absent in what was left before bars struck for a rhythm were kept.
  pitching: z
    .strictObject({
      piece: text,
      struck: z.array(z.int().min(0).max(127)).max(MOST_PITCHES),
      isOpen: z.boolean(),
    } satisfies Fields<Pitching>)
    .optional(),
  mutedParts: ids,
  aloneParts: ids,
  stickingShown: ids,
  hear: z.strictObject({
    // Absent in what was left before it could be chosen.
    what: z.enum(['page', 'take', 'both']).default('page'),
    speed: z.number().min(25).max(400),
    bar: whole.optional(),
    click: z.boolean(),
  } satisfies Fields<HearSettings>),
  // Absent in what was left before there was rehearsing.
  rehearsal: z
    .strictObject({
      part: text.optional(),
      players: z.record(text, text),
      own: z.enum(['left out', 'as written', 'louder', 'alone']),
      speed: z.number().min(SPEED_RANGE.least).max(SPEED_RANGE.most),
      bars: z.strictObject({ first: z.int().min(0), last: z.int().min(0) }).optional(),
      loop: z.boolean(),
      click: z.boolean(),
      screenBars: z.boolean(),
    } satisfies Fields<RehearsalSettings>)
    .default(FIRST_REHEARSAL),
  // Absent in what was left before anything could be sent.
  sends: z
    .strictObject({
      isOwn: z.boolean(),
      channel: z.int().min(0).max(15),
      setsSounds: z.boolean(),
      soundsHere: z.boolean(),
      clock: z.boolean(),
    } satisfies Fields<SendSettings>)
    .default(FIRST_SENDS),
  screenPage: z.strictObject({ staveHeight: staveHeight.optional(), under }),
  paper: z.strictObject({ staveHeight, under }),
  repeatBars: z.boolean(),
  // Absent in what was left before pieces were assessed.
  asked: z
    .strictObject({
      questions: z.array(text).max(MOST_QUESTIONS),
      criteria: z.array(text).max(MOST_QUESTIONS),
      length: z
        .strictObject({
          least: whole.min(0).max(MOST_ASKED),
          most: whole.min(0).max(MOST_ASKED),
        } satisfies Fields<AskedLength>)
        .optional(),
    } satisfies Fields<AskedOfPieces>)
    .default({ questions: [...FIRST_ASKED.questions], criteria: [...FIRST_ASKED.criteria] }),
  volume: z.number().min(-60).max(0),
  motor: z.number().min(0).max(8),
} satisfies Fields<SafeSession>) as z.ZodType<SafeSession>;

/** What lies on the desk. */
export const lyingShape: z.ZodType<Lying> = z.strictObject({
  piece: pieceShape,
  room: roomShape,
} satisfies Fields<Lying>);

export const memoryShape = z.strictObject({
  strikes: z
    .array(
      z.strictObject({
        at: z.number(),
        pitch: z.int().min(0).max(127),
        velocity: z.number().min(0).max(127),
        nextBest: z.int().min(0).max(127).exactOptional(),
        perhapsNone: z.literal(true).exactOptional(),
        until: z.number().exactOptional(),
        device: text,
        name: text,
        source: z.enum(['midi', 'screen', 'keys', 'microphone']),
        held: z.boolean(),
        along: z.literal(true).exactOptional(),
      } satisfies Fields<HeardStrike>),
    )
    .max(20_000),
});

export const revisionsShape = z.record(text, text);
