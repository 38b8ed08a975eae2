import { describe, expect, it } from 'vitest';
import { planOf } from '../../../core/piece/piece.ts';
import {
  barsToRehearse,
  givePlayer,
  instrumentOfDevice,
  playedParts,
  playWhole,
  practise,
  rehearse,
} from '../../../renderer/desk/commands/rehearsal.ts';
import { goTo, showPupilView } from '../../../renderer/desk/commands/settings.ts';
import { growNow } from '../../../renderer/desk/commands/trial.ts';
import type { DeskState } from '../../../renderer/desk/state.ts';
import { after, EMPTY, pieceOn, withPiece } from '../pieces.ts';

/** A xylophone p1 and a marimba p2, rehearsed in Grow; the pads play the marimba. */
const two = after(withPiece(), growNow, 'canon', {
  kind: 'canon',
  statement: 's1',
  to: { newPart: 'marimba' },
  beats: 2,
});
const padsOnMarimba = after(after(after(two, goTo, 'grow'), rehearse, true), givePlayer, 'pads', 'p2');
const partsOf = (desk: DeskState, ...devices: string[]): readonly string[] =>
  playedParts(planOf(pieceOn(desk)), desk.session.rehearsal, devices);

describe('who rehearses what', () => {
  it('a device has a part of its own, whoever has none the first, and each part is told once', () => {
    expect(partsOf(padsOnMarimba, 'pads', 'keys')).toEqual(['p1', 'p2']);
    expect(partsOf(padsOnMarimba, 'keys')).toEqual(['p1']);
    const own = after(padsOnMarimba, givePlayer, 'pads', undefined);
    expect(partsOf(own, 'pads')).toEqual(['p1']);
    // A part that is gone is nobody's.
    expect(partsOf(after(padsOnMarimba, givePlayer, 'pads', 'p9'), 'pads')).toEqual(['p1']);
  });

  it('a device sounds as its part does while parts are rehearsed in Grow, and else as in Play', () => {
    const usual = padsOnMarimba.session.play.instrument;
    expect(usual).not.toBe('marimba');
    expect(instrumentOfDevice(padsOnMarimba, 'pads')).toBe('marimba');
    expect(instrumentOfDevice(padsOnMarimba, 'keys')).toBe('xylophone');
    for (const elsewhere of [
      after(padsOnMarimba, goTo, 'write'),
      after(padsOnMarimba, rehearse, false),
      { ...padsOnMarimba, document: EMPTY.document },
    ])
      expect(instrumentOfDevice(elsewhere, 'pads')).toBe(usual);
  });

  it('in the pupil view, too: the whole piece from its beginning, counted, at the speed the teacher left', () => {
    const practised = after(after(padsOnMarimba, practise, 2), showPupilView, true);
    // Whoever comes into the pupil view rehearses nothing yet.
    expect(instrumentOfDevice(practised, 'pads')).toBe(practised.session.play.instrument);
    const along = after(after(practised, goTo, 'keep'), playWhole);
    expect(along.session.view).toBe('grow');
    expect(along.session.rehearsal).toMatchObject({
      bars: undefined,
      loop: false,
      own: 'left out',
      speed: practised.session.rehearsal.speed,
    });
    expect(instrumentOfDevice(along, 'pads')).toBe('marimba');
    expect(instrumentOfDevice(along, 'keys')).toBe('xylophone');
    // A part alone sounds, too: nothing else would.
    expect(after(withPiece(), playWhole).session.rehearsal.own).toBe('as written');
    expect(after(EMPTY, playWhole)).toBe(EMPTY);
  });

  it('the whole piece, or one bar over and over, a fifth slower but never under 40 per cent', () => {
    expect(barsToRehearse(padsOnMarimba.session.rehearsal, 5)).toEqual({ first: 0, last: 4 });
    let desk = after(padsOnMarimba, practise, 2);
    const { speed } = padsOnMarimba.session.rehearsal;
    expect(desk.session.rehearsal).toMatchObject({
      bars: { first: 2, last: 2 },
      loop: true,
      speed: speed - 20,
    });
    for (let i = 0; i < 5; i++) desk = after(desk, practise, 2);
    expect(desk.session.rehearsal.speed).toBe(40);
  });
});
