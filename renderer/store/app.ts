import { computed, signal } from '@preact/signals';
import type { NameStyle } from '../../core/foundation/noteValue.ts';
import { type Metre, metre } from '../../core/foundation/metre.ts';
import type { Problem } from '../../core/foundation/result.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { Plan } from '../../core/plan/plan.ts';
import type { History } from '../../core/piece/history.ts';
import { corrected, type Piece, pieceScore, planOf, readingScore } from '../../core/piece/piece.ts';

/** The four places of the journey. */
export type Place = 'play' | 'write' | 'grow' | 'keep';

export interface PlaySettings {
  readonly instrument: InstrumentId;
  readonly clickOn: boolean;
  readonly metre: Metre;
  readonly bpm: number;
  readonly countInBars: number;
  /** Pitch classes of bars lifted off. */
  readonly lifted: readonly number[];
  readonly silence: number;
  readonly keysPlay: boolean;
  readonly drumsAsPitched: boolean;
}

/** A development being tried on the page before it is kept. */
export interface Preview {
  readonly name: string;
  readonly plan: Plan;
  readonly statement: string;
}

/** What is being heard, for buttons and the moving cursor. */
export interface Hearing {
  readonly what: 'take' | 'page' | 'both' | 'reading' | 'piece' | 'preview' | 'statement' | 'concept';
}

export const place = signal<Place>('play');
export const pupil = signal({ codeName: 'Heron', className: '8 Kestrel' });
export const playSettings = signal<PlaySettings>({
  instrument: 'xylophone',
  clickOn: false,
  metre: metre(4, 4),
  bpm: 92,
  countInBars: 1,
  lifted: [],
  silence: 2,
  keysPlay: true,
  drumsAsPitched: false,
});
export const nameStyle = signal<NameStyle>('british');
export const keyShortcuts = signal(true);
/** The one piece being worked on, with everything that can be undone. */
export const work = signal<History<Piece> | undefined>(undefined);
/** The piece as it was last kept; what differs is not saved yet. */
export const keptPiece = signal<Piece | undefined>(undefined);
export const selectedNotes = signal<readonly number[]>([]);
/** Notes that went elsewhere with the last correction, shown until the next thing is done. */
export const followed = signal<readonly number[]>([]);
/** Statements that followed the last change of the motif, shown until the plan is changed. */
export const rippled = signal<readonly string[]>([]);
export const selectedStatement = signal<string | undefined>(undefined);
/** Parts that are silent while listening, and parts that are heard alone; by id, never saved. */
export const mutedParts = signal<ReadonlySet<string>>(new Set());
export const aloneParts = signal<ReadonlySet<string>>(new Set());
export const toggled = (set: ReadonlySet<string>, id: string): ReadonlySet<string> =>
  set.has(id) ? new Set([...set].filter(other => other !== id)) : new Set([...set, id]);
/** Parts not heard now: everything but the ones alone, or the silent ones. */
export const silentParts = (ids: readonly string[]): ReadonlySet<string> =>
  new Set(
    aloneParts.value.size > 0 && ids.some(id => aloneParts.value.has(id))
      ? ids.filter(id => !aloneParts.value.has(id))
      : ids.filter(id => mutedParts.value.has(id)),
  );
/** One note of a statement, chosen to be changed by hand. */
export const selectedPlanNote = signal<{ readonly statement: string; readonly index: number } | undefined>(
  undefined,
);
export const preview = signal<Preview | undefined>(undefined);
export const hearing = signal<Hearing | undefined>(undefined);
/** Where the performance is, in semibreves from the first bar of the page. */
export const cursor = signal<number | undefined>(undefined);
/** How Write compares by ear: speed in per cent, one bar over and over or all of it, with a click or without. */
export const hearSettings = signal<{
  readonly speed: number;
  readonly bar: number | undefined;
  readonly click: boolean;
}>({ speed: 100, bar: undefined, click: false });
export const problem = signal<Problem | undefined>(undefined);
/** A quiet line: what was just done. */
export const notice = signal('');

export const piece = computed(() => work.value?.present);

/** The page of Write: the chosen reading with its corrections. */
export const reading = computed(() => (piece.value === undefined ? undefined : corrected(piece.value)));
export const writeScore = computed(() => (piece.value === undefined ? undefined : readingScore(piece.value)));
export const shownPlan = computed(() =>
  piece.value === undefined ? undefined : (preview.value?.plan ?? planOf(piece.value)),
);
export const growScore = computed(() => {
  const now = piece.value;
  const plan = shownPlan.value;
  return now === undefined || plan === undefined ? undefined : pieceScore(now, plan);
});
