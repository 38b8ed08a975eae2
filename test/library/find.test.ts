import { describe, expect, it } from 'vitest';
import { factsOf } from '../../core/library/facts.ts';
import { askedWords, factsHaveWords } from '../../core/library/find.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { planOfFour } from '../exchange/pieces.ts';
import { barePiece } from './pieces.ts';

const piece = (id: string, change: Partial<Piece>): Piece => ({ ...barePiece(id), ...change });
const all = [
  piece('a', { codeName: 'Heron', title: 'Ferry bell', className: '8 Kestrel', plan: planOfFour() }),
  piece('b', { codeName: 'Élan', title: 'Tin roof', className: '8 Kestrel' }),
];
const found = (asked: string): string[] =>
  all.filter(e => factsHaveWords(factsOf(e), askedWords(asked))).map(e => e.id);

describe('finding in the class library', () => {
  it('by any words, capitals and accents aside, and by technique', () => {
    expect(found('')).toEqual(['a', 'b']);
    expect(found('kestrel')).toEqual(['a', 'b']);
    expect(found('elan ROOF')).toEqual(['b']);
    expect(found('canon augmentation')).toEqual(['a']);
    expect(found('heron roof')).toEqual([]);
    expect(found('5/8 minor')).toEqual(['a', 'b']);
    expect(askedWords('  Ferry   bell ')).toEqual(['ferry', 'bell']);
  });
});
