import { describe, expect, it } from 'vitest';
import { factsOf } from '../../../core/library/facts.ts';
import { rowsLike } from '../../../core/library/likeness.ts';
import { type RegisterRow, registerRows } from '../../../core/library/register.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import {
  findLikeBy,
  findLikePiece,
  findLikeStruck,
  leaveAlike,
} from '../../../renderer/desk/commands/alike.ts';
import { strike } from '../../../renderer/desk/commands/playing.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, EMPTY, pieceOf, takeOf } from '../pieces.ts';

const TUNE = [0, 1, 1.5, 2, 3, 4, 6] as const;
const RISING = [60, 62, 64, 65, 67, 69, 72] as const;
/** The same idea from another bar; another tune in its rhythm; its contour in another rhythm; another idea. */
const PIECES: readonly Piece[] = [
  takeOf('heron', TUNE, RISING),
  takeOf(
    'otter',
    TUNE,
    RISING.map(pitch => pitch + 5),
  ),
  takeOf('dipper', TUNE, [72, 67, 69, 64, 64, 60, 62]),
  takeOf('lynx', [0, 2, 3, 3.5, 4.5, 5, 6], RISING),
  takeOf('vole', [0, 0.5, 1, 3, 3.5, 4, 6], [72, 72, 60, 60, 72, 60, 72]),
].map(take => ({ ...pieceOf(take), codeName: take.id }));
const rows: readonly RegisterRow[] = registerRows({
  entries: [],
  classes: [{ id: 'class-1', name: '8K', pupils: ['nobody'], groups: [] }],
  open: undefined,
  waiting: PIECES,
});
const [HERON] = PIECES;
if (HERON === undefined) throw new Error('no piece');

const shown = (desk: DeskState): readonly string[] | undefined => {
  const { alike } = desk.live;
  return alike === undefined ? undefined : rowsLike(rows, alike.outline, alike.by).map(row => row.codeName);
};
const played = (at: readonly number[], pitches: readonly number[]): DeskState =>
  at.reduce(
    (desk, time, i) =>
      after(desk, strike, {
        at: 10 + time,
        pitch: pitches[i] ?? 60,
        velocity: 80,
        device: 'pad',
        name: 'pad',
        source: 'midi' as const,
      }),
    EMPTY,
  );

describe('finding pieces alike', () => {
  it('by rhythm alone where there is no contour, as of claps; the next tune is asked for whole again', () => {
    const claps = played(
      TUNE.map(at => 0.3 * at),
      TUNE.map(() => 60),
    );
    const desk = after(claps, findLikeStruck, 13);
    expect(desk.live.alike?.by).toBe('rhythm');
    expect(shown(desk)).toEqual(['heron', 'otter', 'dipper']);
    expect(after(after(desk, leaveAlike), findLikePiece, factsOf(HERON)).live.alike?.by).toBe('both');
  });

  it('by rhythm, by contour and by both; the piece itself first, whoever has nothing never', () => {
    const desk = after(EMPTY, findLikePiece, factsOf(HERON));
    expect([desk.live.alike?.of, desk.live.alike?.by]).toEqual(['Idea by heron', 'both']);
    expect(shown(desk)).toEqual(['heron', 'otter']);
    expect(shown(after(desk, findLikeBy, 'rhythm'))).toEqual(['heron', 'otter', 'dipper']);
    const contour = after(desk, findLikeBy, 'contour');
    expect(shown(contour)).toEqual(['heron', 'otter', 'lynx']);
    // Another tune is asked for by what the last one was.
    expect(after(contour, findLikePiece, factsOf(HERON)).live.alike?.by).toBe('contour');
    expect(shown(after(contour, leaveAlike))).toBeUndefined();
    expect(after(EMPTY, findLikeBy, 'rhythm').live.alike).toBeUndefined();
  });

  it('the piece that was asked for is before all that are as like it', () => {
    const [, otter] = PIECES;
    const desk = after(EMPTY, findLikePiece, factsOf(otter ?? HERON));
    expect(shown(desk)).toEqual(['otter', 'heron']);
  });

  it('like what was just struck, at whatever tempo', () => {
    const desk = played(
      TUNE.map(at => 0.3 * at),
      RISING.map(pitch => pitch + 2),
    );
    expect(shown(after(desk, findLikeStruck, 13))).toEqual(['heron', 'otter']);
  });

  it('the likest come first, whatever order they stood in', () => {
    const swan = { ...pieceOf(takeOf('swan', TUNE, [60, 62, 64, 65, 67, 69, 65])), codeName: 'swan' };
    const before = registerRows({ entries: [], classes: [], open: undefined, waiting: [swan, HERON] });
    const names = rowsLike(before, factsOf(HERON).outline, 'both').map(row => row.codeName);
    expect(names).toEqual(['heron', 'swan']);
  });

  it('an idea of four notes is like too many; that is said, and the register stays', () => {
    for (const count of [0, 1, 4]) {
      const few = findLikeStruck(played(TUNE.slice(0, count), RISING), 13);
      expect(few.ok ? '' : few.problem.what).toContain('fewer than 5 notes');
    }
    expect(findLikeStruck(played(TUNE.slice(0, 5), RISING), 13).ok).toBe(true);
  });
});
