import { metre } from '../../core/foundation/metre.ts';
import type { Metre } from '../../core/foundation/metre.ts';
import { newPiece, type Piece } from '../../core/piece/piece.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Hints } from '../../core/reading/model/reading.ts';
import type { Take } from '../../core/take/take.ts';
import type { Command } from '../../renderer/desk/command.ts';
import { openEntry } from '../../renderer/desk/commands/open.ts';
import { type DeskState, FIRST_DESK } from '../../renderer/desk/state.ts';

/** Strikes at places of a click at crotchet 120 (a beat is half a second), for whole bars. */
export const takeOf = (
  id: string,
  at: readonly number[],
  pitches: readonly number[],
  bars = 2,
  beatsInBar: Metre = metre(4, 4),
): Take => ({
  id,
  capturedAt: '2026-01-01T00:00:00.000Z',
  source: 'midi',
  from: 'pad',
  click: { metre: beatsInBar, beats: Array.from({ length: bars * 4 + 1 }, (_, i) => i * 0.5) },
  latency: 0,
  lengthsMean: false,
  strikes: at.map((beat, i) => ({ at: beat * 0.5, pitch: pitches[i] ?? 72, velocity: 90 })),
});

/** Two bars: four crotchets up C major, then two minims. */
export const SCALE = takeOf('scale', [0, 1, 2, 3, 4, 6], [72, 74, 76, 77, 79, 84]);

/** A bar of crotchets three times, so that it has repeats. */
export const THRICE = takeOf(
  'thrice',
  Array.from({ length: 12 }, (_, i) => i),
  [72, 74, 76, 77, 72, 74, 76, 77, 72, 74, 76, 77],
  3,
);

export const pieceOf = (take: Take = SCALE, hints: Hints = {}, id = `piece-of-${take.id}`): Piece => {
  const [reading] = readTake(take, hints);
  if (reading === undefined) throw new Error('no reading');
  const base = {
    id,
    title: 'Idea',
    codeName: 'Otter',
    className: '7 Wren',
    instrument: 'xylophone' as const,
  };
  return newPiece({ ...base, take, hints }, reading);
};

/** All of a desk that commands could disturb, made to throw when they do. */
const frozen = <T>(value: T): T => {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const inner of Object.values(value)) frozen(inner);
  }
  return value;
};

/** The desk after a command; throws the problem where there is one. */
export const after = <Given extends readonly unknown[]>(
  desk: DeskState,
  command: Command<Given>,
  ...given: Given
): DeskState => {
  const done = command(frozen(desk), ...given);
  if (!done.ok) throw new Error(done.problem.what);
  return done.value;
};

export const EMPTY = FIRST_DESK;
/** A desk with a kept piece on it. */
export const withPiece = (piece: Piece = pieceOf()): DeskState =>
  after(FIRST_DESK, openEntry, { id: piece.id, revision: 'r1', piece });

export const pieceOn = (desk: DeskState): Piece => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) throw new Error('nothing on the desk');
  return piece;
};
export const lastStep = (desk: DeskState): string | undefined => desk.document.history?.past.at(-1)?.name;
export const stepsOf = (desk: DeskState): number => desk.document.history?.past.length ?? 0;
