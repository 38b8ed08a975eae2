import { describe, expect, it } from 'vitest';
import { key } from '../../../core/foundation/key.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { writeOn } from '../../../core/reading/whilePlaying/writeOn.ts';
import type { Click } from '../../../core/take/take.ts';
import {
  setBeat,
  setClick,
  setCursor,
  setLateness,
  strike,
} from '../../../renderer/desk/commands/playing.ts';
import { startPiece } from '../../../renderer/desk/commands/open.ts';
import { choosePupil } from '../../../renderer/desk/commands/pupils.ts';
import { goTo, setPlay, showPupilView } from '../../../renderer/desk/commands/settings.ts';
import {
  canShowSoFar,
  scoreSoFar,
  setSoFar,
  shownSoFar,
  toWriteOn,
} from '../../../renderer/desk/commands/whilePlaying.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';
import { type DeskState, withLive } from '../../../renderer/desk/state.ts';
import { asked } from '../asked.ts';
import { after, EMPTY, SCALE } from '../pieces.ts';

const CLICK: Click = { metre: metre(4, 4), beats: Array.from({ length: 12 }, (_, i) => i * 0.5) };
const struck = (at: number, pitch = 72) =>
  ({ at, pitch, velocity: 80, device: 'pad', name: 'Pad 25', source: 'midi' }) as const;
const played = (at: readonly number[], desk: DeskState = EMPTY): DeskState =>
  at.reduce((so, time, i) => after(so, strike, struck(time, 72 + (i % 5))), desk);

/** The desk after the reader has answered at a moment. */
const written = (desk: DeskState, now: number): DeskState => {
  const wanted = toWriteOn(desk, now, CLICK);
  if (wanted === undefined) throw new Error('nothing to write');
  return after(desk, setSoFar, writeOn(wanted.before, wanted.heard));
};
const OTTER = { codeName: 'Otter', className: '' };
const WREN = { codeName: 'Wren', className: '' };
const FOUR = [0, 0.5, 1, 1.5];
const scoreOn = ({ live, session }: DeskState) => {
  const so = shownSoFar(live.soFar, live.memory, session);
  return so === undefined ? undefined : scoreSoFar(so, key('G'), session.play.instrument);
};
const refs = (desk: DeskState): number =>
  (scoreOn(desk)?.parts[0]?.bars ?? []).flatMap(b => b.symbols).filter(s => s.pitches.length > 0).length;

describe('what is written on', () => {
  it('is the phrase under way, from what was written of it before', () => {
    const first = toWriteOn(played(FOUR), 1.6, CLICK);
    expect(first?.before).toBeUndefined();
    expect(first?.heard.strikes.map(s => s.at)).toEqual(FOUR);
    expect([first?.heard.since, first?.heard.now, first?.heard.latency]).toEqual([0, 1.6, 0]);
    const more = played([2], written(played(FOUR), 1.6));
    expect(toWriteOn(more, 2.1, CLICK)?.before).toBe(more.live.soFar);
  });

  it('of a long phrase is only its last strikes', () => {
    const many = Array.from({ length: 60 }, (_, i) => i * 0.5);
    const click = { ...CLICK, beats: many };
    const start = played(many);
    const first = toWriteOn(start, 29.6, click);
    if (first === undefined) throw new Error('nothing to write');
    const desk = after(start, setSoFar, writeOn(first.before, first.heard));
    const next = toWriteOn(desk, 29.7, click);
    expect(next?.heard.strikes.length).toBeLessThan(20);
    expect(next?.heard.strikes.at(-1)?.at).toBe(29.5);
  });

  it('can be shown just when it makes a score, and what the line follows changes with every answer', () => {
    let desk = EMPTY;
    const seen = createDesk(EMPTY);
    const shown = FOUR.map(at => {
      desk = written(played([at], desk), at + 0.1);
      const so = desk.live.soFar;
      return so === undefined ? [] : [canShowSoFar(so), scoreSoFar(so, key('G'), 'xylophone') !== undefined];
    });
    expect(shown).toEqual([
      [false, false],
      [true, true],
      [true, true],
      [true, true],
    ]);
    const asked = seen.askedSoFar.value;
    seen.run(setPlay, { instrument: 'marimba' });
    expect(seen.askedSoFar.value).not.toBe(asked);
    expect([seen.isStruck.value, seen.isWritingAlong.value]).toEqual([false, false]);
    seen.run(strike, struck(0));
    expect(seen.isStruck.value).toBe(true);
  });

  it('begins anew with a new phrase, and when the device is found to be late', () => {
    const desk = written(played(FOUR), 1.6);
    const other = toWriteOn(played([9, 9.5], desk), 9.6, CLICK);
    expect([other?.before, other?.heard.since]).toEqual([undefined, 9]);
    const late = after(desk, setLateness, 'Pad 25', { late: 40, spread: 5, strikes: 12 });
    expect(toWriteOn(late, 1.7, CLICK)?.before).toBeUndefined();
    expect(toWriteOn(late, 1.7, CLICK)?.heard.latency).toBe(40);
  });

  it.each([
    ['where it is switched off', (d: DeskState) => after(d, setPlay, { writesAlong: false })],
    ['in another place', (d: DeskState) => after(d, goTo, 'write')],
    ['in the pupil view', (d: DeskState) => after(d, showPupilView, true)],
    ['when somebody else sits down', (d: DeskState) => after(d, choosePupil, WREN)],
  ])('is nothing %s', (_, change) => {
    const desk = written(played(FOUR, after(EMPTY, choosePupil, OTTER)), 2);
    expect(refs(desk)).toBe(4);
    expect(toWriteOn(change(desk), 2.1, CLICK)).toBeUndefined();
    expect(scoreOn(change(desk))).toBeUndefined();
  });

  it('is nothing where it was struck along to a written part', () => {
    const rehearsed = withLive(EMPTY, { hearing: { what: 'rehearsal' } });
    expect(toWriteOn(played(FOUR, rehearsed), 1.6, CLICK)).toBeUndefined();
  });
});

describe('what is shown', () => {
  it('is the phrase up to the beat under way, and goes with the next phrase', () => {
    const desk = written(played(FOUR), 1.6);
    expect(refs(desk)).toBe(3);
    expect(scoreOn(desk)?.metre).toEqual(metre(4, 4));
    const later = written(desk, 2);
    expect(refs(later)).toBe(4);
    expect(scoreOn(played([8], later))).toBeUndefined();
    expect(scoreOn(EMPTY)).toBeUndefined();
  });

  it('stands in the key it is given, and is drawn anew only when it changed', () => {
    expect(scoreOn(written(played(FOUR), 2))?.key).toEqual(key('G'));
    const desk = createDesk(written(played(FOUR), 2));
    const before = desk.pageSoFar.value;
    expect(before?.key).toEqual(key('C'));
    desk.run(setCursor, 0.25);
    desk.run(setClick, true);
    desk.run(setBeat, { beat: 1, inBar: 1 });
    expect(desk.pageSoFar.value).toBe(before);
    desk.run(strike, struck(2));
    expect(desk.pageSoFar.value).toBe(before);
  });

  it('is nothing to a catch: the piece is the same with it and without', () => {
    const begin = { take: SCALE, title: 'Idea', id: 'p', pupil: undefined };
    const without = asked(EMPTY, startPiece, begin).desk;
    const along = asked(written(played(FOUR), 2), startPiece, begin).desk;
    expect(along.document).toEqual(without.document);
    expect(along.live.readings).toEqual(without.live.readings);
  });
});
