import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { fullPiece } from './fullPiece.ts';

export { fullPiece };
export { countingTools, sha256 } from './tools.ts';

/** What version 3 could say beyond version 2: an idea without a gap, a note respelled, accompaniments. */
export const pieceOfVersion3 = (): Piece => {
  const { plan, ...full } = fullPiece();
  if (plan === undefined) throw new Error('a full piece has a plan');
  return {
    ...full,
    edits: [...full.edits, { kind: 'respell', note: 1, name: { letter: 'D', alter: -1 } }],
    motifBars: { from: 0, to: 2, joined: true },
    plan: {
      ...plan,
      statements: [
        ...plan.statements,
        {
          id: 's3',
          part: 'p2',
          onset: fraction(5),
          chain: [],
          times: 2,
          accompaniment: { kind: 'drone', figure: 'crossover', steps: [21, 25] },
          dynamic: 'mp',
        },
        {
          id: 's4',
          part: 'p1',
          onset: fraction(10),
          chain: [],
          times: 1,
          accompaniment: { kind: 'ending', steps: [28] },
          articulation: 'tenuto',
        },
      ],
      tempi: [{ bar: 4, tempo: 96 }],
      nextId: 5,
    },
  };
};

/** What version 6 could say beyond version 3: marks of a statement, rolls among them. */
export const pieceOfVersion6 = (): Piece => {
  const { plan, ...full } = pieceOfVersion3();
  if (plan === undefined) throw new Error('a full piece has a plan');
  const [first, ...more] = plan.statements;
  if (first === undefined) throw new Error('a full piece has statements');
  return {
    ...full,
    plan: {
      ...plan,
      statements: [
        { ...first, rolled: 'last', hairpin: 'crescendo', fermata: true, slurred: true, words: 'dreamily' },
        ...more,
      ],
    },
  };
};

/** What version 7 can say beyond that: other keys from a bar on. */
export const pieceOfVersion7 = (): Piece => {
  const { plan, ...full } = pieceOfVersion6();
  if (plan === undefined) throw new Error('a full piece has a plan');
  return {
    ...full,
    plan: {
      ...plan,
      keys: [
        { bar: 1, moved: 7 },
        { bar: 2, moved: -12 },
        { bar: 3, signature: key('F', 'lydian') },
      ],
    },
  };
};

/** What version 8 can say beyond that: what pupil and teacher said of the piece. */
export const pieceOfVersion8 = (): Piece => ({
  ...pieceOfVersion7(),
  assessment: {
    answers: [{ to: 'Why?', words: 'Because\n♭ & <so>.' }],
    judgements: [{ criterion: 'The idea', words: 'clear' }],
    feedback: 'Go on.',
  },
});

/** What version 9 can say beyond that: marks on single notes. */
export const pieceOfVersion9 = (): Piece => {
  const { plan, ...full } = pieceOfVersion8();
  if (plan === undefined) throw new Error('a full piece has a plan');
  const [first, ...more] = plan.statements;
  if (first === undefined) throw new Error('a full piece has statements');
  return {
    ...full,
    plan: {
      ...plan,
      statements: [
        {
          ...first,
          noteMarks: [
            { time: 0, note: 1, mark: 'dead' },
            { time: 1, note: 0, mark: 'ring' },
          ],
        },
        ...more,
      ],
    },
  };
};

/** What version 10 can say beyond that: mallets. */
export const pieceOfVersion10 = (): Piece => {
  const { plan, ...full } = pieceOfVersion9();
  if (plan === undefined) throw new Error('a full piece has a plan');
  const [one, two, ...more] = plan.parts;
  if (one === undefined || two === undefined) throw new Error('a full piece has two parts');
  return {
    ...full,
    mallet: 'soft-yarn',
    plan: { ...plan, parts: [{ ...one, mallet: 'rubber' }, { ...two, mallet: 'brass' }, ...more] },
  };
};

/** What version 11 can say beyond that: notes that were heard rolled, and made or written out by hand. */
export const pieceOfVersion11 = (): Piece => {
  const { plan, ...full } = pieceOfVersion10();
  if (plan === undefined) throw new Error('a full piece has a plan');
  return {
    ...full,
    reading: {
      ...full.reading,
      notes: full.reading.notes.map(n => (n.strike === 1 ? { ...n, roll: [1] } : n)),
    },
    edits: [...full.edits, { kind: 'roll', note: 0, more: [1, -1] }, { kind: 'unroll', note: 0 }],
    plan: {
      ...plan,
      statements: plan.statements.map(s =>
        s.detached === undefined ? s : { ...s, detached: s.detached.map(n => ({ ...n, roll: true })) },
      ),
    },
  };
};

/** What version 12 can say beyond that: several grace notes to a note, made or written out by hand. */
export const pieceOfVersion12 = (): Piece => {
  const { plan, ...full } = pieceOfVersion11();
  if (plan === undefined) throw new Error('a full piece has a plan');
  const grace = { strike: 1, pitch: 62 };
  return {
    ...full,
    reading: {
      ...full.reading,
      notes: full.reading.notes.map(n => (n.strike === 0 ? { ...n, grace, ruff: [grace, grace] } : n)),
    },
    edits: [...full.edits, { kind: 'grace', note: 0, from: [1] }, { kind: 'ungrace', note: 0 }],
    plan: {
      ...plan,
      statements: plan.statements.map(s =>
        s.detached === undefined
          ? s
          : {
              ...s,
              detached: s.detached.map(n => ({
                ...n,
                grace: { degree: 28, alter: 0 },
                ruff: [{ degree: 27, alter: 1 }],
              })),
            },
      ),
    },
  };
};

/** What version 13 can say beyond that: what else a strike may have been. */
export const pieceOfVersion13 = (): Piece => {
  const full = pieceOfVersion12();
  const { take } = full;
  return {
    ...full,
    take: { ...take, strikes: take.strikes.map((s, i) => (i === 0 ? { ...s, nextBest: 61 } : s)) },
  };
};

/** What version 19 can say beyond that: strikes that may be somebody else's. */
export const pieceOfVersion19 = (): Piece => {
  const full = pieceOfVersion13();
  const { take } = full;
  return {
    ...full,
    take: { ...take, strikes: take.strikes.map((s, i) => (i === 1 ? { ...s, perhapsNone: true } : s)) },
  };
};

/** What version 20 can say beyond that: corrections that the ear made. */
export const pieceOfVersion20 = (): Piece => {
  const full = pieceOfVersion19();
  const heard: Piece['edits'] = [
    { kind: 'pitch', note: 0, pitch: 64, heard: true },
    { kind: 'delete', note: 1, heard: true },
  ];
  return { ...full, edits: [...full.edits, ...heard] };
};

/** What version 14 can say beyond that: other metres, pauses before them, and bars of accompaniment in them. */
export const pieceOfVersion14 = (): Piece => {
  const full = pieceOfVersion13();
  if (full.plan === undefined) return full;
  const [first, ...others] = full.plan.statements;
  return {
    ...full,
    plan: {
      ...full.plan,
      metres: [
        { bar: 2, metre: metre(3, 4) },
        { bar: 5, metre: metre(7, 8) },
      ],
      pauses: [{ bar: 5, length: fraction(1, 4) }],
      statements: [
        ...(first === undefined ? [] : [first]),
        ...others,
        {
          id: 's99',
          part: first?.part ?? 'p1',
          onset: fraction(40),
          chain: [],
          times: 2,
          accompaniment: { kind: 'drone', figure: 'simple', steps: [21, 25], metre: metre(3, 4) },
        },
      ],
    },
  };
};

/** What version 15 can say beyond that: glissandi, heard, made and written out by hand, and in the motif. */
export const pieceOfVersion15 = (): Piece => {
  const full = pieceOfVersion14();
  const { plan, reading } = full;
  if (plan === undefined) return full;
  const gliss = {
    strokes: [
      { strike: 0, pitch: 60 },
      { strike: 1, pitch: 62 },
    ],
    to: 64,
  };
  return {
    ...full,
    reading: { ...reading, notes: reading.notes.map(n => (n.strike === 0 ? { ...n, gliss } : n)) },
    edits: [
      ...full.edits,
      { kind: 'gliss', note: 0, more: [1] },
      { kind: 'gliss', note: 0, more: [], into: 2 },
      { kind: 'ungliss', note: 0 },
    ],
    plan: {
      ...plan,
      statements: plan.statements.map(s =>
        s.detached === undefined
          ? s
          : {
              ...s,
              detached: s.detached.map((n, i) => ({
                ...n,
                gliss: { to: { degree: 31, alter: -1 }, ...(i === 0 ? { over: 'all' as const } : {}) },
              })),
            },
      ),
    },
  };
};

/** The least a piece can be. */
export const barePiece = (id: string, title = 'Bare', codeName = 'Wren'): Piece => {
  const { plan: _plan, motifBars: _bars, ...rest } = fullPiece(id, title);
  return { ...rest, codeName, hints: {}, edits: [], keyChosen: false };
};
