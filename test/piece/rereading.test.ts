import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equal, fraction, less, toNumber } from '../../core/foundation/fraction.ts';
import { scaleMidi } from '../../core/foundation/key.ts';
import { metre, OFFERED_METRES, parseMetre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import {
  beatIsInThree,
  gridUnit,
  nearestGridPosition,
  redivide,
  nextGridPosition,
} from '../../core/piece/gridPositions.ts';
import { cutOfNotes, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { corrected, motifOf, newPiece, type Piece, planOf } from '../../core/piece/piece.ts';
import { positionsOfBar, countWords } from '../../core/piece/positionWords.ts';
import {
  followers,
  reread,
  successor,
  withHint,
  withoutPins,
  withPins,
  withRepeats,
} from '../../core/piece/rereading.ts';
import { ripples } from '../../core/piece/ripple.ts';
import { strikePositions } from '../../core/piece/strikePositions.ts';
import { readTake } from '../../core/reading/read.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { place, played, places } from '../takes/written.ts';

/** The same idea three times; its second strike lies half way between two places. */
const THRICE = played({
  at: [0, 4, 8].flatMap(bar => [bar, bar + 0.63, bar + 1, bar + 2, bar + 3]),
  pitch: [0, 4, 8].flatMap(() => [72, 74, 76, 79, 76]),
  tempo: 96,
});
const pieceOf = (take = THRICE): Piece => {
  const [best] = readTake(take);
  if (best === undefined) throw new Error('nothing read');
  return newPiece(
    {
      id: 'p',
      title: 'Idea',
      codeName: 'Wren',
      className: '8 Kestrel',
      instrument: 'xylophone',
      take,
      hints: {},
    },
    best,
  );
};

describe('a correction as a pin', () => {
  it('takes the same note of every repeat with it, and nothing else', () => {
    const piece = pieceOf();
    const pins = withRepeats(piece.reading, [{ strike: 1, onset: place(0.75) }]);
    expect(pins.map(p => [p.strike, toNumber(p.onset)])).toEqual([
      [1, 0.1875],
      [6, 1.1875],
      [11, 2.1875],
    ]);
    const hints = withPins(piece, pins);
    const [next] = readTake(piece.take, hints);
    if (next === undefined) throw new Error('nothing read');
    const after = reread(piece, hints, next);
    expect(places(corrected(after)).filter(x => x % 4 === 0.75)).toHaveLength(3);
    expect(followers(piece, after, [{ strike: 1, onset: place(0.75) }])).toEqual([6, 11]);
  });
  it('a later pin of the same strike replaces the earlier, and pins can be taken back', () => {
    const piece = pieceOf();
    const once = { ...piece, hints: withPins(piece, [{ strike: 1, onset: place(0.75) }]) };
    const twice = withPins(once, [{ strike: 1, onset: place(0.5) }]);
    expect(twice.pins).toEqual([{ strike: 1, onset: place(0.5) }]);
    expect(withoutPins(twice, [1])).not.toHaveProperty('pins');
  });
  it('keeps the page as it was before the first correction, and lets it go with the last pin', () => {
    const piece = pieceOf();
    const once = { ...piece, hints: withPins(piece, [{ strike: 1, onset: place(0.75) }]) };
    const [moved] = readTake(piece.take, once.hints);
    if (moved === undefined) throw new Error('nothing read');
    const twice = withPins({ ...once, reading: moved }, [{ strike: 2, onset: place(1.25) }]);
    expect(twice.page).toEqual(once.hints.page);
    expect(twice.page?.positions).toEqual(
      piece.reading.notes.map(({ strike, onset }) => ({ strike, onset })),
    );
    expect(withoutPins(twice, [1])).toHaveProperty('page');
    expect(withoutPins(twice, [1, 2])).toEqual({});
  });
  it('another hint reads the page anew; without a click the pins keep its metre and tempo', () => {
    const { click: _, ...free } = THRICE;
    const piece = pieceOf(free);
    const hints = withPins(piece, [{ strike: 1, onset: place(0.75) }]);
    const told = withHint({ take: free, hints }, { grid: 'quarter' });
    expect(told).not.toHaveProperty('page');
    expect(told.metre).toEqual(piece.reading.metre);
    expect(told.tempo).toBeCloseTo(piece.reading.tempo, 9);
    expect(withHint({ take: free, hints }, { letRing: true }).page).toEqual(hints.page);
    expect(withHint({ take: free, hints }, { pins: [] })).not.toHaveProperty('metre');
    expect(withHint({ take: THRICE, hints }, { grid: 'quarter' })).not.toHaveProperty('metre');
  });
  it('goes on with the best where the best was chosen, else with the one most like the page', () => {
    const readings = readTake(THRICE);
    const [best, second] = readings;
    if (best === undefined || second === undefined) throw new Error('too few readings');
    expect(successor(best, true, readings)).toBe(best);
    expect(successor(second, false, readings)).toBe(second);
    expect(successor(second, false, [])).toBeUndefined();
  });
  it('hand corrections stay; in another metre only pitches and deletions do', () => {
    const piece: Piece = {
      ...pieceOf(),
      edits: [
        { kind: 'pitch', note: 0, pitch: 74 },
        { kind: 'length', note: 2, duration: fraction(1, 8) },
        { kind: 'move', note: 3, onset: fraction(9, 16) },
      ],
    };
    const same = reread(piece, { pins: [{ strike: 3, onset: fraction(1, 2) }] }, piece.reading);
    expect(same.edits.map(e => e.kind)).toEqual(['pitch', 'length']);
    const other: Reading = { ...piece.reading, metre: metre(3, 4) };
    expect(reread(piece, {}, other).edits.map(e => e.kind)).toEqual(['pitch']);
  });
});

describe('places of the grid', () => {
  it('a step moves along the grid; a note between steps goes to the nearest that way', () => {
    const by = fraction(1, 16);
    expect(nextGridPosition(fraction(1, 4), by, 1)).toEqual(fraction(5, 16));
    expect(nextGridPosition(fraction(1, 4), by, -1)).toEqual(fraction(3, 16));
    expect(nextGridPosition(fraction(1, 6), by, 1)).toEqual(fraction(3, 16));
    expect(nextGridPosition(fraction(1, 6), by, -1)).toEqual(fraction(1, 8));
    expect(nearestGridPosition(0.26, by)).toEqual(fraction(1, 4));
  });
  it('in a triplet the step is a third of the beat', () => {
    const piece = pieceOf(
      played({ at: [0, 1, 1 + 1 / 3, 1 + 2 / 3, 2, 3, 4], pitch: [72, 74, 76, 74, 72, 71, 72] }),
    );
    const note = piece.reading.notes[2];
    if (note === undefined) throw new Error('no note');
    expect(beatIsInThree(piece.reading, note.onset)).toBe(true);
    expect(gridUnit({}, piece.reading, note)).toEqual(fraction(1, 12));
    const straight = redivide(piece.reading, note.onset, 4, strikePositions(piece.take, piece.reading));
    expect(straight).toHaveLength(3);
    expect(straight.every(p => p.onset.d % 3 !== 0)).toBe(true);
    expect(new Set(straight.map(p => toNumber(p.onset))).size).toBe(3);
  });
  it('every usual place of a bar is in the bar, in order, with the note’s own among them', () => {
    fc.assert(
      fc.property(fc.constantFrom(...OFFERED_METRES), fc.integer({ min: 0, max: 400 }), (name, ticks) => {
        const m = parseMetre(name) ?? metre(4, 4);
        const at = fraction(ticks, 192);
        const all = positionsOfBar(m, at);
        expect(all.some(p => equal(p, at))).toBe(true);
        all.slice(1).forEach((p, i) => expect(less(all[i] ?? p, p)).toBe(true));
        expect(new Set(all.map(p => countWords(m, p).split(',')[0])).size).toBe(1);
      }),
    );
  });
});

describe('motifs', () => {
  it('the chosen notes alone, silence in the place of the others; two motifs from one take', () => {
    const piece = pieceOf();
    const cut = cutOfNotes(piece.reading, [5, 7]);
    expect(cut).toEqual({ from: 2, to: 2, closed: true, without: [6, 8, 9] });
    if (cut === undefined) return;
    const motif = motifOfReading(piece.reading, piece.key, cut);
    expect(motif.notes.map(n => toNumber(n.onset))).toEqual([0, 0.25]);
    const two: Piece = { ...piece, moreMotifs: [{ ...cut, id: '2' }] };
    expect(motifOf(two).others?.['2']?.notes).toHaveLength(2);
    const grown = grow(motifOf(two), planOf(two), {
      kind: 'motif',
      statement: 's1',
      motif: '2',
      onset: fraction(4),
      to: { part: 'p1' },
    });
    expect(grown).toMatchObject({ ok: true, value: { plan: { statements: [{}, { motif: '2' }] } } });
    expect(cutOfNotes(piece.reading, [])).toBeUndefined();
  });
  it('a change of the motif goes through every statement tied to it, and names those', () => {
    const piece = pieceOf();
    const grown = grow(motifOf(piece), planOf(piece), {
      kind: 'canon',
      statement: 's1',
      to: { newPart: 'marimba' },
      beats: 1,
    });
    if (!grown.ok) throw new Error(grown.problem.what);
    const before: Piece = { ...piece, plan: grown.value.plan };
    const after: Piece = { ...before, edits: [{ kind: 'pitch', note: 0, pitch: 71 }] };
    expect(ripples(before, after)).toEqual(['s1', grown.value.statement]);
    expect(ripples(before, before)).toEqual([]);
  });

  it('a further motif keeps its notes when the metre changes, and the bars of the first are forgotten', () => {
    const piece: Piece = {
      ...pieceOf(),
      motifBars: { from: 1, to: 1 },
      moreMotifs: [{ id: '2', from: 3, to: 3 }],
    };
    const notesOf = (now: Piece): number[] =>
      (motifOf(now).others?.['2']?.notes ?? []).map(n => scaleMidi(now.key, n));
    expect(notesOf(piece)).toEqual([72, 74, 76, 79, 76]);
    const hints = { metre: metre(2, 4) };
    const [next] = readTake(piece.take, hints);
    if (next === undefined) throw new Error('nothing read');
    const after = reread(piece, hints, next);
    expect(notesOf(after)).toEqual([72, 74, 76, 79, 76]);
    expect(after.motifBars).toBeUndefined();
  });

  it('a change in the second motif is no change of what states the first', () => {
    const piece: Piece = {
      ...pieceOf(),
      motifBars: { from: 1, to: 1 },
      moreMotifs: [{ id: '2', from: 2, to: 2 }],
    };
    const at = fraction(0);
    const both = grow(motifOf(piece), planOf(piece), {
      kind: 'motif',
      statement: 's1',
      motif: '2',
      onset: at,
      to: { newPart: 'marimba' },
    });
    if (!both.ok) throw new Error(both.problem.what);
    const before: Piece = { ...piece, plan: both.value.plan };
    const after: Piece = { ...before, edits: [{ kind: 'pitch', note: 6, pitch: 71 }] };
    expect(ripples(before, after)).toEqual([both.value.statement]);
  });
});
