import { describe, expect, it } from 'vitest';
import type { Piece } from '../../core/piece/piece.ts';
import { pieceOfVersion14, pieceOfVersion15 } from './pieces.ts';
import { openedFile, savedAndOpened } from './savedAndOpened.ts';

describe('glissandi in saved pieces', () => {
  it('come back as they were: heard, and in notes of a statement', async () => {
    const piece = pieceOfVersion15();
    expect(piece.reading.notes.some(n => n.gliss !== undefined)).toBe(true);
    expect(piece.plan?.statements.some(s => s.detached?.some(n => n.gliss !== undefined))).toBe(true);
    expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece } });
  });

  it('opens piece-v14.json, which knew none', async () => {
    expect(await openedFile(14)).toStrictEqual(pieceOfVersion14());
  });

  it('refuses figures that are no strikes and no bars', async () => {
    const piece = pieceOfVersion15();
    const stroke = { strike: 0, pitch: 60 };
    const hostile = [1e9, -1, NaN, 2 ** 53, 0.5, '1', null];
    for (const gliss of [
      true,
      {},
      { strokes: [], to: 60 },
      { strokes: [stroke] },
      { strokes: Array(129).fill(stroke), to: 60 },
      { strokes: [stroke], to: 60, more: 1 },
      ...hostile.flatMap(bad => [
        { strokes: [{ ...stroke, strike: bad }], to: 60 },
        { strokes: [{ ...stroke, pitch: bad }], to: 60 },
        { strokes: [stroke], to: bad },
      ]),
      { strokes: [stroke], to: 128 },
    ]) {
      const notes = piece.reading.notes.map(n => ({ ...n, gliss }));
      const bad = { ...piece, reading: { ...piece.reading, notes } } as unknown as Piece;
      expect(await savedAndOpened(bad), JSON.stringify(gliss)).toMatchObject({ ok: false });
    }
  });

  it('refuses edits that name no notes', async () => {
    const piece = pieceOfVersion15();
    for (const edit of [
      { kind: 'gliss', note: 0 },
      { kind: 'gliss', note: 0, more: Array(129).fill(0) },
      { kind: 'ungliss', note: 0, more: [] },
      ...[1e9, NaN, 2 ** 53, 0.5].flatMap(bad => [
        { kind: 'gliss', note: bad, more: [] },
        { kind: 'gliss', note: 0, more: [bad] },
        { kind: 'gliss', note: 0, more: [], into: bad },
        { kind: 'ungliss', note: bad },
      ]),
    ]) {
      const bad = { ...piece, edits: [edit] } as unknown as Piece;
      expect(await savedAndOpened(bad), JSON.stringify(edit)).toMatchObject({ ok: false });
    }
  });

  it('refuses lines of the motif to nowhere', async () => {
    const piece = pieceOfVersion15();
    const to = { degree: 30, alter: 0 };
    for (const gliss of [
      {},
      { to: 64 },
      { to, over: 'some' },
      { to, over: undefined },
      ...[1e9, -1e9, NaN, 2 ** 53, 0.5].flatMap(bad => [
        { to: { ...to, degree: bad } },
        { to: { ...to, alter: bad } },
      ]),
    ]) {
      const statements = piece.plan?.statements.map(s => ({
        ...s,
        ...(s.detached === undefined ? {} : { detached: s.detached.map(n => ({ ...n, gliss })) }),
      }));
      const bad = { ...piece, plan: { ...piece.plan, statements } } as unknown as Piece;
      expect(await savedAndOpened(bad), JSON.stringify(gliss)).toMatchObject({ ok: false });
    }
  });
});
