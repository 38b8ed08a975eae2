import { describe, expect, it } from 'vitest';
import { factsOf } from '../../core/library/facts.ts';
import type { RegisterEntry } from '../../core/library/library.ts';
import {
  filteredRows,
  keptCount,
  NO_FILTER,
  registerRows,
  type RegisterRow,
  sortedRows,
} from '../../core/library/register.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { type Piece, planOf } from '../../core/piece/piece.ts';
import { planOfFour } from '../exchange/pieces.ts';
import { barePiece } from './pieces.ts';

const list = (name: string, pupils: string[], groups: { name: string; pupils: string[] }[] = []) => ({
  id: `class-${name.slice(0, 1)}`,
  name,
  pupils,
  groups,
});
const KESTREL = list(
  '8 Kestrel',
  ['Badger', 'Heron', 'Lynx', 'Otter'],
  [{ name: 'Lynx and Otter', pupils: ['Lynx', 'Otter'] }],
);
const WREN = list('7 Wren', ['Badger']);
const entry = (
  id: string,
  codeName: string,
  more: Partial<RegisterEntry> = {},
  piece: Partial<Piece> = {},
): RegisterEntry => ({
  id,
  revision: `${id}-r`,
  savedAt: '2026-01-05T09:00:00.000Z',
  revisions: 1,
  rivals: [],
  draft: false,
  keptAt: '2026-01-05T09:00:00.000Z',
  away: false,
  facts: factsOf({ ...barePiece(id, `T${id}`, codeName), className: '8 Kestrel', ...piece }),
  ...more,
});
const rows = (entries: RegisterEntry[], more = {}): readonly RegisterRow[] =>
  registerRows({ entries, classes: [KESTREL, WREN], open: undefined, waiting: [], ...more });
const said = (all: readonly RegisterRow[]): string[] =>
  all.map(r => `${r.className} ${r.codeName}: ${r.state}`);

describe('the lines of the register', () => {
  it('are everybody’s pieces, and everybody who has nothing yet', () => {
    const all = rows([entry('a', 'Heron'), entry('b', 'Badger', { draft: true, keptAt: undefined })]);
    expect(said(all)).toEqual([
      '8 Kestrel Heron: kept',
      '8 Kestrel Badger: draft',
      '8 Kestrel Lynx: nothing',
      '8 Kestrel Otter: nothing',
      '7 Wren Badger: nothing',
    ]);
  });

  it('count a shared piece for all of its group', () => {
    const all = rows([entry('a', 'Lynx and Otter')]);
    expect(said(all)).toEqual([
      '8 Kestrel Lynx and Otter: kept',
      '8 Kestrel Badger: nothing',
      '8 Kestrel Heron: nothing',
      '7 Wren Badger: nothing',
    ]);
    expect(keptCount(all, [KESTREL])).toEqual({ kept: 2, of: 4 });
  });

  it('count who has kept a version, drafts and what is put away aside', () => {
    const all = rows([
      entry('a', 'Heron'),
      entry('b', 'heron'),
      entry('c', 'Badger', { draft: true, keptAt: undefined }),
      entry('d', 'Lynx', { away: true }),
      entry('e', 'Otter', { draft: true }),
    ]);
    expect(keptCount(all, [KESTREL])).toEqual({ kept: 2, of: 4 });
    expect(keptCount(all, [KESTREL, WREN])).toEqual({ kept: 2, of: 5 });
    // Who has only put something away has nothing here.
    expect(said(all)).toContain('8 Kestrel Lynx: nothing');
  });

  it('show what lies on the desk and what is on its way as they are now', () => {
    const old = entry('a', 'Heron');
    const piece = barePiece('a', 'Ta', 'Heron');
    const changed = { ...piece, title: 'Bell' };
    const fresh = barePiece('x', 'New', 'Otter');
    const open = { piece: changed, isSaved: false };
    const all = rows([old], { open, waiting: [fresh] });
    expect(all.slice(0, 2).map(r => [r.piece?.title, r.state, r.isOpen, r.at])).toEqual([
      ['Bell', 'draft', true, ''],
      ['New', 'draft', false, ''],
    ]);
    const [same] = rows([old], { open: { piece, isSaved: true } });
    expect([same?.isOpen, same?.state]).toEqual([true, 'kept']);
    const [rival] = rows([entry('a', 'Heron', { rivals: ['r2'] })], { open });
    expect(rival?.state).toBe('rivals');
  });
});

describe('what is asked for', () => {
  const all = rows([
    entry('a', 'Heron', {}, { plan: planOfFour() }),
    entry('b', 'Badger', { rivals: ['r'] }, { key: key('D', 'major') }),
    entry('c', 'Otter', { away: true }),
    entry('d', '', {}, { className: '' }),
  ]);
  const found = (asked: Partial<typeof NO_FILTER>): string[] =>
    filteredRows(all, { ...NO_FILTER, ...asked }).map(r => (r.facts === undefined ? r.codeName : r.id));

  it('by class, with what is not yet given', () => {
    expect(found({ className: '7 Wren' })).toEqual(['d', 'Badger']);
  });

  it('by state; what is put away only when it is asked for', () => {
    expect(found({ state: 'nothing', className: '8 Kestrel' })).toEqual(['Lynx', 'Otter']);
    expect(found({ state: 'away' })).toEqual(['c']);
    expect(found({})).not.toContain('c');
    expect([found({ state: 'rivals' }), found({ state: 'kept' })]).toEqual([['b'], ['a', 'd']]);
  });

  it('by whether the teacher has said something; an answer of the pupil alone is no feedback', () => {
    const answers = [{ to: 'Why?', words: 'So.' }];
    const judgements = [{ criterion: 'Rhythm', words: 'secure' }];
    const some = rows([
      entry('a', 'Heron', {}, { assessment: { answers: [], judgements: [], feedback: 'Go on.' } }),
      entry('b', 'Badger', {}, { assessment: { answers, judgements: [], feedback: '' } }),
      entry('c', 'Otter', {}, { assessment: { answers: [], judgements, feedback: '' } }),
      entry('d', 'Lynx', { away: true }),
      entry('e', 'Lynx'),
    ]);
    const ids = filteredRows(some, { ...NO_FILTER, state: 'unanswered' }).map(row => row.id);
    expect(ids).toEqual(['b', 'e']);
  });

  it('by treatment, metre, key and words', () => {
    expect(found({ treatment: 'canon' })).toEqual(['a']);
    expect([found({ metre: '5/8' }), found({ metre: '4/4' })]).toEqual([['a', 'b', 'd'], []]);
    expect(found({ key: 'D major' })).toEqual(['b']);
    expect([found({ words: 'HERON canon' }), found({ words: 'lynx' })]).toEqual([['a'], ['Lynx']]);
    const piece = barePiece('x');
    expect(factsOf(piece)).toBe(factsOf(piece));
    const later = [metre(3, 4), metre(5, 8)].map((m, i) => ({ bar: i + 2, metre: m }));
    const two = { ...piece, plan: { ...planOf(piece), metres: later } };
    const [row] = rows([{ ...entry('m', 'Heron'), facts: factsOf(two) }]);
    if (row === undefined) throw new Error('no row');
    const isIn = (m: string): boolean => filteredRows([row], { ...NO_FILTER, metre: m }).length === 1;
    expect(['5/8', '3/4', '4/4'].map(isIn)).toEqual([true, true, false]);
    expect(filteredRows([row], { ...NO_FILTER, words: '3/4' })).toEqual([row]);
    expect(factsOf(piece).playings).toBe(0);
    const kept = { id: 'k1', first: 0, last: 0, speed: 1, parts: [] };
    expect(factsOf({ ...piece, playings: [kept, { ...kept, id: 'k2' }] }).playings).toBe(2);
  });
});

describe('the order', () => {
  it('is by code name, idea, what it is grown with or state; and from the end', () => {
    const all = rows([
      entry('a', 'Otter', {}, { title: 'Bell' }),
      entry('b', 'Badger', { draft: true }, { title: 'Zig', plan: planOfFour() }),
      entry('c', 'badger', { rivals: ['r'] }, { title: 'Anvil' }),
    ]).filter(r => r.className === '8 Kestrel');
    const order = (by: Parameters<typeof sortedRows>[1], end = false): string[] =>
      sortedRows(all, by, end).map(r => r.facts?.title ?? r.codeName);
    expect(order('pupil')).toEqual(['Anvil', 'Zig', 'Heron', 'Lynx', 'Bell']);
    expect(order('pupil', true)).toEqual(['Bell', 'Lynx', 'Heron', 'Anvil', 'Zig']);
    expect(order('idea')).toEqual(['Anvil', 'Bell', 'Zig', 'Heron', 'Lynx']);
    expect(order('grown')[0]).toBe('Zig');
    expect(order('state')).toEqual(['Anvil', 'Heron', 'Lynx', 'Zig', 'Bell']);
  });

  it('is that of the numbers in names', () => {
    const names = ['Heron 10', 'Heron 2', 'Heron 1', 'Heron 21', 'Heron'];
    const all = names.map((name, i) => entry(String(i), name, {}, { title: `Idea ${name}` }));
    const order = sortedRows(rows(all), 'pupil', false).flatMap(r =>
      r.facts === undefined ? [] : [r.codeName],
    );
    expect(order).toEqual(['Heron', 'Heron 1', 'Heron 2', 'Heron 10', 'Heron 21']);
    const ideas = sortedRows(rows(all), 'idea', false).flatMap(r => r.facts?.title ?? []);
    expect(ideas).toEqual(['Idea Heron', 'Idea Heron 1', 'Idea Heron 2', 'Idea Heron 10', 'Idea Heron 21']);
  });
});
