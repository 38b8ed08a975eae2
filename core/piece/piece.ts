import type { Key } from '../foundation/key.ts';
import { finish, type Sliced } from '../foundation/sliced.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import { type KeyEvidence, type KeySuggestion, keyToWrite } from '../motif/suggestKey.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { MalletId } from '../instruments/mallets.ts';
import { firstPlan, type Plan } from '../plan/plan.ts';
import type { Hints, Reading } from '../reading/model/reading.ts';
import { scoreOfPlan } from '../score/fromPlan.ts';
import { withRhythmLines } from '../score/oneLine.ts';
import { scoreOfReadingInSlices } from '../score/fromReading.ts';
import type { Score } from '../score/score.ts';
import type { Take } from '../take/take.ts';
import type { Assessment } from './assessment.ts';
import { comesAgain, isRhythmOnly } from './rhythmOnly.ts';
import { correct, type Edit } from './edit.ts';
import type { KeptPlaying } from './keptPlaying.ts';
import { type BarRange, likelyMotif, type MotifCut, motifOfReading } from './motifOfReading.ts';

/**
 * Everything that is saved of one pupil's work: the take as played, the reading that was chosen,
 * the corrections, and the plan. Score, sound and files are derived from it, never stored.
 */
export interface Piece {
  /** Sortable and unique; the class library files it under this. */
  readonly id: string;
  readonly title: string;
  readonly codeName: string;
  readonly className: string;
  /** The instrument it was played on. */
  readonly instrument: InstrumentId;
  /** What it was struck with; absent for the instrument's usual mallets. */
  readonly mallet?: MalletId;
  readonly take: Take;
  /** What the teacher asked of the reader. */
  readonly hints: Hints;
  /** The reading that was chosen, as the reader gave it. */
  readonly reading: Reading;
  readonly edits: readonly Edit[];
  readonly key: Key;
  /** Whether the key is the teacher's choice or still the suggestion. */
  readonly keyChosen: boolean;
  /** Bars of the reading that are the motif; absent until it is used. */
  readonly motifBars?: BarRange;
  /** Further motifs cut from the same take. */
  readonly moreMotifs?: readonly MotifCut[];
  /** Absent until something was grown. */
  readonly plan?: Plan;
  /** What was really played to it and kept, oldest first. */
  readonly playings?: readonly KeptPlaying[];
  /** What was said about it; absent while nothing was. */
  readonly assessment?: Assessment;
}

/**
 * The reading with the teacher's corrections. Bars of a rhythm without pitches are repeats by their rhythm alone;
 * once it has pitches they are repeats only where these come again, too.
 */
export const corrected = (piece: Piece): Reading => {
  const reading = correct(piece.reading, piece.edits);
  const { period, ...rest } = reading;
  if (period === undefined || !isRhythmOnly(piece.reading) || isRhythmOnly(reading)) return reading;
  return comesAgain(reading, period) ? reading : rest;
};

/** The bars of the motif: those chosen, or the likely ones, taken as they were before version 17 where it has a plan. */
export const motifRange = (piece: Piece, reading = corrected(piece)): BarRange => {
  if (piece.motifBars !== undefined) return piece.motifBars;
  const { closed: _, ...before } = likelyMotif(reading);
  return piece.plan === undefined ? likelyMotif(reading) : before;
};

/** The motif as it now stands, with the further ones beside it. */
export const motifOf = (piece: Piece): Motif => {
  const reading = corrected(piece);
  const main = motifOfReading(reading, piece.key, motifRange(piece, reading));
  const more = piece.moreMotifs ?? [];
  if (more.length === 0) return main;
  const others = more.map(cut => {
    const { key: _, metre: __, swing: ___, ...passage } = motifOfReading(reading, piece.key, cut);
    return [cut.id, passage] as const;
  });
  return { ...main, others: Object.fromEntries(others) };
};

/** What was grown, or the motif alone where nothing was yet. */
export const planOf = (piece: Piece): Plan =>
  piece.plan ?? firstPlan(piece.instrument, piece.reading.tempo, piece.mallet);

/** The piece with something grown; its idea stays as long as it was then. */
export const withPlan = (piece: Piece, plan: Plan): Piece => ({
  ...piece,
  motifBars: motifRange(piece),
  plan,
});

/** How a reading begins: its page, written so many full bars far. */
export const openingOf = (piece: Piece, bars: number, reading = corrected(piece)): Score =>
  finish(openingInSlices(piece, bars, reading));

function* openingInSlices(piece: Piece, bars: number, reading: Reading): Sliced<Score> {
  const score = yield* scoreOfReadingInSlices(
    reading,
    piece.key,
    piece.instrument,
    piece.title,
    piece.codeName,
    bars,
    piece.mallet,
  );
  return isRhythmOnly(reading) ? withRhythmLines(score) : score;
}

/** The page of Write: the corrected reading. */
export const readingScore = (piece: Piece, reading = corrected(piece)): Score =>
  openingOf(piece, Infinity, reading);

/** {@link readingScore}, a bar at a time. */
export const readingScoreInSlices = (piece: Piece, reading = corrected(piece)): Sliced<Score> =>
  openingInSlices(piece, Infinity, reading);

/** The page of Grow: the piece. */
export const pieceScore = (piece: Piece, plan = planOf(piece)): Score => {
  const score = scoreOfPlan(motifOf(piece), plan, piece.title, piece.codeName);
  return isRhythmOnly(corrected(piece)) ? withRhythmLines(score) : score;
};

/** A key for a reading, from its pitches weighted by length, with the chance that it is right. */
export const suggestionFor = (reading: Reading, evidence: KeyEvidence = {}): KeySuggestion =>
  keyToWrite(weighed(reading), evidence);

/** The pitches of a reading in order, each weighed by its length. */
export const weighed = (
  reading: Reading,
): readonly { readonly pitch: MidiPitch; readonly weight: number }[] =>
  reading.notes.map(n => ({ pitch: n.pitch, weight: n.duration.n / n.duration.d }));

/** The key a page is first written in; one without a signature where the pitches tell too little. */
export const suggestedKey = (reading: Reading, evidence: KeyEvidence = {}): Key =>
  suggestionFor(reading, evidence).key;

/** A new piece from a take and the reading chosen for it. @param evidence what else speaks for a key */
export const newPiece = (
  base: Pick<Piece, 'id' | 'title' | 'codeName' | 'className' | 'instrument' | 'mallet' | 'take' | 'hints'>,
  reading: Reading,
  evidence: KeyEvidence = {},
): Piece => ({ ...base, reading, edits: [], key: suggestedKey(reading, evidence), keyChosen: false });
