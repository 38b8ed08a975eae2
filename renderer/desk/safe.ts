import type { History } from '../../core/piece/history.ts';
import { pieceShape } from '../../core/library/pieceShape.ts';
import type { Piece } from '../../core/piece/piece.ts';
import type { Memory } from '../../core/take/memory.ts';
import type { Lying } from './document.ts';
import { lyingShape, memoryShape, revisionsShape, sessionShape } from './safeShape.ts';
import type { SafeSession } from './session.ts';
import type { DeskState } from './state.ts';

/** What lay on the desk, as it is safe on disk: one object graph, so that what is shared is stored once. */
export interface SafeDesk {
  readonly version: 1;
  /** When input's clock began, in ms since 1970: strikes are counted from there. */
  readonly clockStart: number;
  readonly session: SafeSession;
  readonly history: History<Lying> | undefined;
  readonly kept: Piece | undefined;
  /** Absent in what was left before there were drafts. */
  readonly drafted?: Piece | undefined;
  readonly outbox?: readonly Piece[];
  readonly revisions: Readonly<Record<string, string>>;
  readonly memory: Memory;
}

/** Steps of undo that are kept: more of them are undone in one sitting than a lesson has minutes. */
const MOST_STEPS = 100;

/** The desk as it is to be kept. @param clockStart performance.timeOrigin of this window */
export const toSafe = (desk: DeskState, clockStart: number): SafeDesk => {
  const { rooms: _, lateness: __, ...session } = desk.session;
  const { history, kept, drafted, outbox, revisions } = desk.document;
  return {
    version: 1,
    clockStart,
    session,
    history: history && {
      past: history.past.slice(-MOST_STEPS),
      present: history.present,
      future: history.future.slice(0, MOST_STEPS),
    },
    kept,
    drafted,
    outbox,
    revisions,
    memory: desk.live.memory,
  };
};

const isPiece = (value: unknown): value is Piece => pieceShape.safeParse(value).success;
const isLying = (value: unknown): value is Lying => lyingShape.safeParse(value).success;

type Step = History<Lying>['past'][number];
const isStep = (value: unknown): value is Step => {
  const { name, state } = (value ?? {}) as Partial<Step>;
  return typeof name === 'string' && isLying(state);
};

/** Steps up to the first that cannot be used, counted from the present. */
const usable = (steps: unknown, from: 'end' | 'start'): readonly Step[] => {
  if (!Array.isArray(steps)) return [];
  const all: readonly unknown[] = from === 'end' ? [...(steps as unknown[])].reverse() : steps;
  const end = all.findIndex(step => !isStep(step));
  const good = (end < 0 ? all : all.slice(0, end)) as readonly Step[];
  return from === 'end' ? [...good].reverse() : good;
};

const piecesOf = (history: History<Lying> | undefined): readonly Piece[] =>
  history === undefined
    ? []
    : [history.present, ...[...history.past, ...history.future].map(step => step.state)].map(l => l.piece);

/**
 * The desk as it was left. What cannot be used is left out: the session, older steps, or everything but
 * the piece itself never hide each other.
 * @param desk an empty one, with what this machine knows
 * @param stored as it was read, from anywhere
 * @param clockStart performance.timeOrigin of this window
 * @returns undefined where there is nothing of use
 */
export const fromSafe = (desk: DeskState, stored: unknown, clockStart: number): DeskState | undefined => {
  if (typeof stored !== 'object' || stored === null) return undefined;
  const safe = stored as Partial<Record<keyof SafeDesk, unknown>>;
  if (safe.version !== 1) return undefined;
  const past = (safe.history ?? {}) as Partial<Record<keyof History<Lying>, unknown>>;
  // Checked, then used as it is: what is the same object in two steps stays the same.
  const history: History<Lying> | undefined = isLying(past.present)
    ? { past: usable(past.past, 'end'), present: past.present, future: usable(past.future, 'start') }
    : undefined;
  const session = sessionShape.safeParse(safe.session);
  const memory = memoryShape.safeParse(safe.memory);
  const revisions = revisionsShape.safeParse(safe.revisions);
  const outbox = Array.isArray(safe.outbox) ? (safe.outbox as unknown[]).filter(isPiece) : [];
  if (history === undefined && outbox.length === 0 && !session.success && !memory.success) return undefined;
  const shift = typeof safe.clockStart === 'number' ? (safe.clockStart - clockStart) / 1000 : 0;
  const settings = session.success ? session.data : desk.session;
  const needsPiece = settings.view === 'write' || settings.view === 'grow';
  return {
    document: {
      history,
      kept: piecesOf(history).find(piece => piece === safe.kept),
      drafted: piecesOf(history).find(piece => piece === safe.drafted),
      outbox,
      revisions: revisions.success ? revisions.data : {},
    },
    session: {
      ...desk.session,
      ...settings,
      view: needsPiece && history === undefined ? 'play' : settings.view,
      turns: settings.turns.map(turn => ({
        ...turn,
        after: turn.after === undefined ? undefined : turn.after + shift,
      })),
    },
    live: {
      ...desk.live,
      memory: memory.success
        ? {
            strikes: memory.data.strikes.map(s => ({
              ...s,
              at: s.at + shift,
              ...(s.until === undefined ? {} : { until: s.until + shift }),
              held: false,
            })),
          }
        : desk.live.memory,
    },
  };
};
