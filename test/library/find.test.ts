import { describe, expect, it } from 'vitest';
import { askedWords, pieceHasWords } from '../../core/library/find.ts';
import type { RegisterEntry } from '../../core/library/library.ts';
import { planOfFour } from '../exchange/pieces.ts';
import { barePiece } from './pieces.ts';

const entry = (id: string, change: Partial<RegisterEntry['piece']>): RegisterEntry => ({
  id,
  revision: 'r1',
  savedAt: '2026-01-05T09:00:00.000Z',
  revisions: 1,
  rivals: [],
  draft: false,
  keptAt: '',
  away: false,
  piece: { ...barePiece(id), ...change },
});
const all = [
  entry('a', { codeName: 'Heron', title: 'Ferry bell', className: '8 Kestrel', plan: planOfFour() }),
  entry('b', { codeName: 'Élan', title: 'Tin roof', className: '8 Kestrel' }),
];
const found = (asked: string): string[] =>
  all.filter(e => pieceHasWords(e.piece, askedWords(asked))).map(e => e.id);

describe('finding in the class library', () => {
  it('by any words, capitals and accents aside, and by technique', () => {
    expect(found('')).toEqual(['a', 'b']);
    expect(found('kestrel')).toEqual(['a', 'b']);
    expect(found('elan ROOF')).toEqual(['b']);
    expect(found('canon augmentation')).toEqual(['a']);
    expect(found('heron roof')).toEqual([]);
    expect(found('5/8 minor')).toEqual(['a', 'b']);
  });
});
