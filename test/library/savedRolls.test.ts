import { describe, expect, it } from 'vitest';
import type { Piece } from '../../core/piece/piece.ts';
import { pieceOfVersion10, pieceOfVersion11, pieceOfVersion12 } from './pieces.ts';
import { openedFile, savedAndOpened } from './savedAndOpened.ts';

describe('rolls and grace notes in saved pieces', () => {
  it('come back as they were: heard, made and written out by hand, in the motif', async () => {
    const piece = pieceOfVersion11();
    expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece } });
  });

  it('opens piece-v10.json, which knew no rolls but those set in Grow', async () => {
    expect(await openedFile(10)).toMatchObject(pieceOfVersion10());
  });

  it('opens piece-v11.json, which knew one grace note to a note', async () => {
    expect(await openedFile(11)).toMatchObject(pieceOfVersion11());
  });

  it('and drags and ruffs', async () => {
    const piece = pieceOfVersion12();
    expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece } });
    const grace = { strike: 0, pitch: 60 };
    for (const ruff of [
      [],
      [{ strike: 0 }],
      [{ strike: 1e9, pitch: 60 }],
      [{ strike: 0, pitch: 128 }],
      Array(9).fill(grace),
    ]) {
      const notes = piece.reading.notes.map(n => ({ ...n, ruff }));
      const bad = { ...piece, reading: { ...piece.reading, notes } } as unknown as Piece;
      expect(await savedAndOpened(bad)).toMatchObject({ ok: false });
    }
    for (const from of [[], [2 ** 53], [NaN], Array(10).fill(0), undefined]) {
      const bad = { ...piece, edits: [{ kind: 'grace', note: 0, from }] } as unknown as Piece;
      expect(await savedAndOpened(bad)).toMatchObject({ ok: false });
    }
  });

  it('refuses figures that are no strikes', async () => {
    const piece = pieceOfVersion11();
    for (const roll of [[], [-1], [1e9], [NaN], [2 ** 53], [0.5], ['1'], true, Array(20_001).fill(0)]) {
      const notes = piece.reading.notes.map(n => ({ ...n, roll }));
      const bad = { ...piece, reading: { ...piece.reading, notes } } as unknown as Piece;
      expect(await savedAndOpened(bad)).toMatchObject({ ok: false });
    }
    for (const edit of [
      { kind: 'roll', note: 0 },
      { kind: 'roll', note: 0, more: [1e9] },
      { kind: 'roll', note: NaN, more: [] },
      { kind: 'unroll', note: 2 ** 53 },
      { kind: 'unroll', note: 0, more: [] },
    ]) {
      const bad = { ...piece, edits: [edit] } as unknown as Piece;
      expect(await savedAndOpened(bad)).toMatchObject({ ok: false });
    }
  });
});
