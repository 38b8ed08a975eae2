import { describe, expect, it } from 'vitest';
import { show } from '../../../core/foundation/fraction.ts';
import { corrected } from '../../../core/piece/piece.ts';
import { readTake } from '../../../core/reading/read.ts';
import { move } from '../../../renderer/desk/commands/pins.ts';
import { chooseReading, hint, offer, setBusy } from '../../../renderer/desk/commands/reading.ts';
import { selectNotes } from '../../../renderer/desk/commands/settings.ts';
import { edit, step } from '../../../renderer/desk/commands/step.ts';
import { asked, askOf } from '../asked.ts';
import { after, EMPTY, lastStep, pieceOf, pieceOn, stepsOf, takeOf, THRICE, withPiece } from '../pieces.ts';

describe('hints and readings', () => {
  it('a hint joins those given before and is one step', () => {
    const one = asked(withPiece(), hint, 'rings', { letRing: true });
    const two = asked(one.desk, hint, 'smallest value', { grid: 'half' });
    expect(two.hints).toEqual({ letRing: true, grid: 'half' });
    expect([lastStep(two.desk), stepsOf(two.desk)]).toEqual(['smallest value', 2]);
    expect(askOf(EMPTY, hint, 'rings', { letRing: true })).toBeUndefined();
  });

  it('played freely whatever the click: the beat is found in the strikes, and kept to the click again it is as before', () => {
    // Crotchets and quavers at 92, under a click at 120 that nobody heard.
    const slow = 120 / 92;
    const at = [0, 1, 2, 2.5, 3, 4, 5, 6, 6.5, 7, 8, 9, 10, 10.5, 11, 12];
    const take = takeOf(
      'unheeded',
      at.map(beat => beat * slow),
      at.map((_, i) => [72, 74, 76, 77, 79][i % 5] ?? 72),
      6,
    );
    const begun = withPiece(pieceOf(take));
    const values = (desk: typeof begun) =>
      corrected(pieceOn(desk))
        .notes.map(n => show(n.onset))
        .join(' ');
    expect(Math.round(corrected(pieceOn(begun)).tempo)).toBe(120);
    const free = asked(begun, hint, 'played freely', { free: true, pins: [] }).desk;
    expect(corrected(pieceOn(free)).tempo).toBeGreaterThan(90);
    expect(corrected(pieceOn(free)).tempo).toBeLessThan(94);
    expect(values(free)).toBe(
      values(
        withPiece(
          pieceOf(
            takeOf(
              'heeded',
              at,
              take.strikes.map(s => s.pitch),
              4,
            ),
          ),
        ),
      ),
    );
    const back = asked(free, hint, 'played to the click', { free: false, pins: [] }).desk;
    expect(values(back)).toBe(values(begun));
  });

  it('an answer for another take, or none, changes nothing', () => {
    const ask = askOf(withPiece(), hint, 'rings', { letRing: true });
    const other = withPiece(pieceOf(THRICE));
    expect(ask?.then(other, [readTake(THRICE, {})])).toEqual({ ok: true, value: other });
    const here = withPiece();
    expect(ask?.then(here, [[]])).toEqual({ ok: true, value: here });
    const pinned = askOf(withPiece(), move, [3], 1);
    expect(pinned?.then(other, [readTake(THRICE, {}), readTake(THRICE, {})])).toEqual({
      ok: true,
      value: other,
    });
  });

  it('a reading that was offered is written, its corrections set aside', () => {
    const desk = after(withPiece(), edit, 'rest', { kind: 'rest', note: 1 });
    const { take, hints } = pieceOn(desk);
    const [, second] = readTake(take, hints);
    if (second === undefined) throw new Error('no second reading');
    const ask = askOf(desk, chooseReading, second, hints);
    expect(ask?.questions).toEqual([]);
    const chosen = asked(desk, chooseReading, second, hints).desk;
    expect([pieceOn(chosen).reading, pieceOn(chosen).edits]).toEqual([second, []]);
    expect(lastStep(chosen)).toBe(`write it ${second.reason}`);
    expect(askOf(EMPTY, chooseReading, second, hints)).toBeUndefined();
  });

  it('after a correction another reading becomes the page that is corrected', () => {
    const desk = asked(withPiece(), move, [3], 1).desk;
    const { take, hints } = pieceOn(desk);
    const [, second] = readTake(take, hints);
    if (second === undefined) throw new Error('no second reading');
    const chosen = asked(desk, chooseReading, second, hints).desk;
    expect(pieceOn(chosen).hints.pins).toEqual(hints.pins);
    expect(pieceOn(chosen).hints.page?.positions).toEqual(
      second.notes.map(({ strike, onset }) => ({ strike, onset })),
    );
    expect(asked(chosen, hint, 'grid', { grid: 'quarter' }).hints).not.toHaveProperty('page');
  });

  it('a reading offered before the hints changed gives way to the one most like it', () => {
    const { take, hints } = pieceOn(withPiece());
    const [, second] = readTake(take, hints);
    if (second === undefined) throw new Error('no second reading');
    const desk = asked(withPiece(), hint, 'rings', { letRing: true }).desk;
    const ask = askOf(desk, chooseReading, second, hints);
    expect(ask?.questions).toEqual([{ take, hints: { letRing: true } }]);
    const chosen = asked(desk, chooseReading, second, hints).desk;
    expect(pieceOn(chosen).reading.notes.map(n => show(n.onset))).toEqual(
      second.notes.map(n => show(n.onset)),
    );
    // Something else was done while it was read: that stays.
    const moved = after(desk, step, 'title', old => ({ ...old, title: 'T' }));
    expect(ask?.then(moved, [readTake(take, { letRing: true })])).toEqual({ ok: true, value: moved });
  });

  it('American names are used where they are asked for', () => {
    const desk = withPiece();
    const american = { ...desk, session: { ...desk.session, nameStyle: 'american' as const } };
    const { take, hints, reading } = pieceOn(desk);
    const named = readTake(take, hints).find(r => /crotchet|quaver/.test(r.reason)) ?? reading;
    const chosen = asked(american, chooseReading, { ...named, notes: named.notes }, hints).desk;
    expect(lastStep(chosen) ?? '').not.toMatch(/crotchet|quaver/);
  });

  it('the list beside the page, and the sign of work', () => {
    const { take, hints } = pieceOn(withPiece());
    const readings = readTake(take, hints);
    expect(after(EMPTY, offer, readings).live.readings).toBe(readings);
    expect(after(EMPTY, setBusy, true).live.readerBusy).toBe(true);
    expect(after(EMPTY, selectNotes, [1]).live.readerBusy).toBe(false);
  });
});
