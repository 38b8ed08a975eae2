import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../../core/foundation/fraction.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { corrected } from '../../../core/piece/piece.ts';
import {
  canLimit,
  divideBeat,
  everywhere,
  isPinned,
  keepBar,
  letGo,
  likeElsewhere,
  limit,
  move,
  moveOnlyHere,
  placeAt,
  writeDropped,
} from '../../../renderer/desk/commands/pins.ts';
import { firstBeat, offer } from '../../../renderer/desk/commands/reading.ts';
import { edit, step, undoStep } from '../../../renderer/desk/commands/step.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { readTake } from '../../../core/reading/read.ts';
import { asked, askOf } from '../asked.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, withPiece, THRICE } from '../pieces.ts';

const onsets = (desk: DeskState): readonly string[] => corrected(pieceOn(desk)).notes.map(n => show(n.onset));

/** One figure on three beats, played as written; nothing comes again. */
const QUAVERS = takeOf(
  'quavers',
  [0, 0.5, 1, 2, 2.5, 3, 4, 4.5, 5, 6],
  [72, 74, 76, 77, 79, 81, 83, 84, 86, 72].map((p, i) => p - (i % 3)),
  2,
);

describe('putting notes in their place', () => {
  it('pins the chosen notes where they go, and says how many others followed', () => {
    const { desk, hints } = asked(withPiece(), move, [3], 1);
    expect(hints?.pins?.map(p => [p.strike, show(p.onset)])).toEqual([[3, '13/16']]);
    expect([onsets(desk)[3], lastStep(desk), stepsOf(desk)]).toEqual(['13/16', 'move F5 later', 1]);
    expect([isPinned(pieceOn(desk), 3), isPinned(pieceOn(desk), 2)]).toEqual([true, false]);
    expect(desk.live.notice).toBe('Move F5 later.');
    expect(lastStep(asked(withPiece(), move, [0, 1], -1).desk)).toBe('move 2 notes earlier');
  });

  it('nobody leaves the page: a bar before the first barline is the end', () => {
    let desk = withPiece();
    for (let k = 0; k < 40; k++) desk = asked(desk, move, [0], -1).desk;
    expect(onsets(desk)[0]).toBe('-1');
    expect(askOf(desk, move, [0], -1)).toBeUndefined();
    expect(askOf(desk, move, [], 1)).toBeUndefined();
    expect(askOf(EMPTY, move, [0], 1)).toBeUndefined();
  });

  it('the same note of every repeat goes with it, unless it is only here', () => {
    const thrice = withPiece(pieceOf(THRICE));
    expect(pieceOn(thrice).reading.period).toBe(1);
    const { desk, hints } = asked(thrice, move, [1], 1);
    expect(hints?.pins?.map(p => [p.strike, show(p.onset)])).toEqual([
      [1, '5/16'],
      [5, '21/16'],
      [9, '37/16'],
    ]);
    expect([desk.live.followed.length > 0, canLimit(desk)]).toEqual([true, true]);
    expect(desk.live.notice).toMatch(/^Move D5 later\. \d+ other notes followed\.$/);

    const limited = after(desk, limit);
    expect(lastStep(limited)).toBe('move D5 later, only here');
    expect([stepsOf(limited), canLimit(limited)]).toEqual([1, false]);
    const here = onsets(limited).filter((onset, i) => onset !== onsets(thrice)[i]);
    expect(here).toEqual(['5/16']);
    expect(pieceOn(limited).hints).toBe(pieceOn(thrice).hints);
    expect(pieceOn(after(limited, undoStep))).toBe(pieceOn(thrice));
  });

  it('cannot be limited any more once something else was done', () => {
    const { desk } = asked(withPiece(pieceOf(THRICE)), move, [1], 1);
    const more = after(desk, step, 'title', old => ({ ...old, title: 'T' }));
    expect(canLimit(more)).toBe(false);
    expect(after(more, limit)).toBe(more);
    expect(canLimit(withPiece())).toBe(false);
    expect(after(EMPTY, limit)).toBe(EMPTY);
  });

  it('everywhere like this carries it to the same figure, in one step', () => {
    const desk = withPiece(pieceOf(QUAVERS));
    expect([pieceOn(desk).reading.period, likeElsewhere(desk)]).toEqual([undefined, 0]);
    const moved = asked(desk, move, [1], 1).desk;
    const here = onsets(moved)[1];
    expect(here).toBe('3/16');
    expect(likeElsewhere(moved)).toBe(2);

    const { desk: spread, hints } = asked(moved, everywhere);
    expect([1, 4, 7].map(i => onsets(spread)[i])).toEqual(['3/16', '11/16', '19/16']);
    expect([stepsOf(spread), lastStep(spread)]).toEqual([1, 'move C♯5 later, everywhere like this']);
    expect([likeElsewhere(spread), canLimit(spread)]).toEqual([0, true]);
    expect(hints?.pins?.map(p => p.strike).sort((a, b) => a - b)).toEqual([1, 4, 7]);
    expect(spread.live.notice).toBe('Move C♯5 later, everywhere like this. 2 other notes followed.');
    expect(askOf(spread, everywhere)).toBeUndefined();
    expect(pieceOn(after(spread, undoStep))).toBe(pieceOn(desk));

    // And back to only here, and everywhere once more.
    const limited = after(spread, limit);
    expect(onsets(limited).filter((at, i) => at !== onsets(desk)[i])).toEqual(['3/16']);
    expect([stepsOf(limited), lastStep(limited)]).toEqual([1, 'move C♯5 later, only here']);
    const again = asked(limited, everywhere).desk;
    expect([onsets(again), stepsOf(again)]).toEqual([onsets(spread), 1]);
  });

  it('nothing is carried anywhere once something else was done, nor where nothing was put in its place', () => {
    const desk = withPiece(pieceOf(QUAVERS));
    const moved = asked(desk, move, [1], 1).desk;
    const more = after(moved, step, 'title', old => ({ ...old, title: 'T' }));
    expect([likeElsewhere(more), askOf(more, everywhere)]).toEqual([0, undefined]);
    const ask = askOf(moved, everywhere);
    if (ask === undefined) throw new Error('nothing asked');
    const late = ask.then(
      more,
      ask.questions.map(q => readTake(q.take, q.hints)),
    );
    expect(late.ok && late.value).toBe(more);
    expect([askOf(desk, everywhere), askOf(EMPTY, everywhere)]).toEqual([undefined, undefined]);
    expect(likeElsewhere(asked(desk, keepBar, [1]).desk)).toBe(0);
  });

  it('only here moves nothing else and asks nobody', () => {
    const desk = after(withPiece(), moveOnlyHere, [3], -1);
    expect([onsets(desk)[3], lastStep(desk)]).toEqual(['11/16', 'move F5 earlier']);
    expect(pieceOn(desk).edits).toEqual([{ kind: 'move', note: 3, onset: fraction(11, 16) }]);
    expect(after(EMPTY, moveOnlyHere, [3], 1)).toBe(EMPTY);
  });

  it('a note the teacher added has no strike to pin: it is moved', () => {
    const added = after(withPiece(), edit, 'add a note', {
      kind: 'add',
      note: -1,
      onset: fraction(2),
      duration: fraction(1, 4),
      pitch: 72,
    });
    const ask = askOf(added, move, [-1], 1);
    expect(ask?.questions).toEqual([]);
    const { desk } = asked(added, move, [-1], 1);
    expect(pieceOn(desk).edits.at(-1)).toMatchObject({ kind: 'move', note: -1 });
  });

  it('at a position of its own; and a strike left out, where it fell', () => {
    const page = corrected(pieceOn(withPiece()));
    const [first] = page.notes;
    if (first === undefined) throw new Error('no note');
    const placed = asked(withPiece(), placeAt, first, fraction(1, 8));
    expect([onsets(placed.desk)[0], lastStep(placed.desk)]).toEqual(['1/8', 'move C5']);
    const written = asked(withPiece(), writeDropped, 2);
    expect(written.hints?.pins?.map(p => [p.strike, show(p.onset)])).toEqual([[2, '1/2']]);
    expect(lastStep(written.desk)).toBe('write E5');
    expect(askOf(withPiece(), writeDropped, 99)).toBeUndefined();
  });
});

describe('beats and bars', () => {
  it('a beat becomes a triplet and no triplet', () => {
    const quavers = withPiece(pieceOf(takeOf('q', [0, 0.5, 1, 1.5, 2, 3], [72, 74, 76, 77, 79, 81], 1)));
    const { desk } = asked(quavers, divideBeat, [1]);
    expect(lastStep(desk)).toBe('triplet here');
    expect(['1/12', '1/6']).toContain(onsets(desk)[1]);
    expect(lastStep(asked(desk, divideBeat, [1]).desk)).toBe('no triplet here');
    expect(askOf(quavers, divideBeat, [])).toBeUndefined();
  });

  it('a bar is kept as it is written, and no other', () => {
    const { desk, hints } = asked(withPiece(), keepBar, [5]);
    expect(hints?.pins?.map(p => p.strike)).toEqual([4, 5]);
    expect(lastStep(desk)).toBe('keep bar 2');
    expect(askOf(withPiece(), keepBar, [])).toBeUndefined();
  });

  it('notes are let go with their repeats; those never pinned are not', () => {
    const pinned = asked(withPiece(pieceOf(THRICE)), move, [1], 1).desk;
    const { desk, hints } = asked(pinned, letGo, [1]);
    expect([hints?.pins, lastStep(desk)]).toEqual([undefined, 'let D5 go']);
    expect(onsets(desk)).toEqual(onsets(withPiece(pieceOf(THRICE))));
    expect(askOf(pinned, letGo, [0])).toBeUndefined();
    expect(askOf(EMPTY, letGo, [0])).toBeUndefined();
  });

  it('the first beat goes to a note, and old pins go', () => {
    const pinned = asked(withPiece(), move, [3], 1).desk;
    const { desk, hints } = asked(pinned, firstBeat, [1]);
    expect([hints?.firstBeatStrike, hints?.pins]).toEqual([1, []]);
    expect([onsets(desk)[1], lastStep(desk)]).toEqual(['0', 'first beat on D5']);
    // A metre chosen by choosing another way to write it stays; one that the reader found may change.
    const other = { ...pieceOn(withPiece()).reading, metre: metre(3, 4) };
    const offered = after(withPiece(), offer, [other]);
    expect(askOf(offered, firstBeat, [1])?.questions[0]?.hints.metre).toEqual(metre(4, 4));
    const same = after(withPiece(), offer, [pieceOn(withPiece()).reading]);
    expect(askOf(same, firstBeat, [1])?.questions[0]?.hints.metre).toBeUndefined();
    expect(askOf(withPiece(), firstBeat, [])).toBeUndefined();
    expect(askOf(EMPTY, firstBeat, [0])).toBeUndefined();
  });
});
