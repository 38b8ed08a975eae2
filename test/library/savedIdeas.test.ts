import { describe, expect, it } from 'vitest';
import { fraction, show, toNumber } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import { likelyMotif } from '../../core/piece/motifOfReading.ts';
import { motifOf, type Piece, pieceScore, planOf, withPlan } from '../../core/piece/piece.ts';
import { withReading } from '../../core/piece/rereading.ts';
import { statementEnd } from '../../core/plan/statement.ts';
import { goOnWithMotif } from '../../renderer/desk/commands/open.ts';
import { after, pieceOn, withPiece } from '../desk/pieces.ts';
import { openedFile, savedAndOpened } from './savedAndOpened.ts';

// G | C E G E | C, the C held for a bar of 4/4, twice and then backwards, as version 16 kept it.
const old = (version = 16): Promise<Piece> => openedFile(version);
/** Onsets in crotchets from the first barline, tied symbols once. */
const struck = (piece: Piece): readonly number[] =>
  pieceScore(piece)
    .parts.flatMap(part => part.bars.flatMap(bar => bar.symbols))
    .filter(symbol => symbol.pitches.length > 0 && !symbol.tiedFrom)
    .map(symbol => toNumber(symbol.onset) * 4);
const ends = (piece: Piece): number => {
  const [first] = planOf(piece).statements;
  return first === undefined ? NaN : toNumber(statementEnd(motifOf(piece), first)) * 4;
};

describe('an idea with an upbeat in a kept piece', () => {
  it('opens as it was: the gap after each time, and the silence first when it goes backwards', async () => {
    const piece = await old();
    expect(piece.motifBars).toEqual({ from: 0, to: 2 });
    const [forwards, backwards] = [
      [-1, 0, 1, 2, 3, 4],
      [2, 6, 7, 8, 9, 10],
    ];
    expect(struck(piece)).toEqual([
      ...forwards,
      ...forwards.map(at => at + 12),
      ...backwards.map(at => at + 24),
    ]);
    expect(ends(piece)).toBe(23);
    expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece } });
  });

  it('grown before without a cut, it stays as long when *Use this motif* is pressed', async () => {
    const { motifBars: _, ...uncut } = await old();
    const pressed = after(withPiece(uncut), goOnWithMotif);
    expect(ends(pieceOn(pressed))).toBe(ends(uncut));
    expect(ends(uncut)).toBe(23);
  });

  it('taken anew it closes, is kept so, and so stays when something is grown from it', async () => {
    const { motifBars: _, plan, ...bare } = await old();
    if (plan === undefined) throw new Error('it has a plan');
    const piece = withPlan(bare, plan);
    expect(piece.motifBars).toEqual({ from: 0, to: 2, closed: true });
    expect(ends(piece)).toBe(15);
    expect(motifOf(piece).notes.map(n => toNumber(n.duration) * 4)).toEqual([1, 1, 1, 1, 1, 3]);
    expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece } });
    // In another metre the bars are told anew, and closed still; without the mark they stay as they were.
    const other = { ...piece.reading, metre: metre(2, 4) };
    expect(withReading(piece, other, []).motifBars).toEqual(likelyMotif(other));
    expect(withReading(await old(), other, []).motifBars).toBeUndefined();
    expect(motifOf(withReading(await old(), other, [])).length).toEqual(fraction(5, 2));
    const more = { ...piece, moreMotifs: [{ id: '2', from: 0, to: 2, closed: true as const }] };
    expect(motifOf(more).others?.['2']?.length).toEqual(fraction(2));
    expect(withReading(more, other, []).moreMotifs?.[0]?.closed).toBe(true);
    const before = { ...piece, moreMotifs: [{ id: '2', from: 0, to: 2 }] };
    expect(withReading(before, other, []).moreMotifs?.[0]?.closed).toBeUndefined();
  });

  it('refuses a mark that is none', async () => {
    for (const closed of [false, 1, 1e9, NaN, 'yes', null])
      expect(
        await savedAndOpened({ ...(await old()), motifBars: { from: 0, to: 2, closed } } as unknown as Piece),
      ).toMatchObject({ ok: false });
  });
});

describe('an ending in a kept piece with an upbeat', () => {
  // The idea closed, twice, and a last note: version 17 let it last its whole bar.
  const lengths = (piece: Piece): readonly string[] =>
    pieceScore(piece).parts[0]?.bars.map(bar => show(bar.length)) ?? [];

  it('opens as it was', async () => {
    const piece = await old(17);
    expect(lengths(piece)).toEqual(['1/4', '1', '1', '1', '1', '1']);
    expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece } });
  });

  it('made anew it is shorter by the upbeat, and kept so', async () => {
    const { plan, ...piece } = await old(17);
    if (plan === undefined) throw new Error('it has a plan');
    const bare = { ...plan, statements: plan.statements.slice(0, 1) };
    const done = grow(motifOf(piece), bare, { kind: 'ending', statement: 's1', steps: { p1: 28 } });
    if (!done.ok) throw new Error(done.problem.what);
    const ended: Piece = { ...piece, plan: done.value.plan };
    expect(lengths(ended)).toEqual(['1/4', '1', '1', '1', '1', '3/4']);
    expect(await savedAndOpened(ended)).toMatchObject({ ok: true, value: { piece: ended } });
    const [, last] = done.value.plan.statements;
    expect(last?.accompaniment).toEqual({ kind: 'ending', steps: [28], closed: true });
    for (const closed of [false, 1, 1e9, NaN, 'yes', null])
      for (const kind of ['ending', 'chord'])
        expect(
          await savedAndOpened({
            ...piece,
            plan: {
              ...bare,
              statements: [...bare.statements, { ...last, accompaniment: { kind, steps: [28], closed } }],
            },
          } as unknown as Piece),
        ).toMatchObject({ ok: false });
  });
});
