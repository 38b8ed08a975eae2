import { describe, expect, it } from 'vitest';
import {
  caught,
  choosePhrase,
  countStrike,
  enoughTaps,
  FEWEST_TAPS,
  forgetChosen,
  forgetDevice,
  forgetLateness,
  latenessFor,
  mostOften,
  phrasesIn,
  release,
  setBeat,
  setClick,
  setCursor,
  setDevices,
  setHeard,
  setLateness,
  setMeasuring,
  setTaps,
  strike,
} from '../../../renderer/desk/commands/playing.ts';
import { type DeskState, withSession } from '../../../renderer/desk/state.ts';
import { after, EMPTY } from '../pieces.ts';

const struck = (at: number, device = 'pad', pitch = 72) =>
  ({ at, pitch, velocity: 80, device, name: device, source: 'midi' }) as const;
const played = (...at: readonly number[]): DeskState =>
  at.reduce((desk, time) => after(desk, strike, struck(time)), EMPTY);

describe('strikes', () => {
  it('are remembered, let go, and let go with their device', () => {
    const two = after(played(1), strike, struck(1.2, 'keys', 74));
    expect(two.live.memory.strikes.map(s => [s.at, s.pitch, s.device])).toEqual([
      [1, 72, 'pad'],
      [1.2, 74, 'keys'],
    ]);
    const released = after(two, release, { at: 1.5, pitch: 72, device: 'pad' });
    expect(released.live.memory.strikes.map(s => s.held)).toEqual([false, true]);
    expect(after(two, forgetDevice, 'keys').live.memory.strikes.map(s => s.held)).toEqual([true, false]);
  });

  it('one catch keeps as many phrases as were asked for, counted from the last', () => {
    const desk = played(1, 1.5, 10, 10.5, 20, 20.5);
    const count = (now: DeskState) => caught(now, 30).map(p => p.strikes.length);
    expect(count(desk)).toEqual([2]);
    expect(count(withSession(desk, { phrasesToCatch: 2 }))).toEqual([2, 2]);
    expect(count(withSession(desk, { phrasesToCatch: 999 }))).toEqual([2, 2, 2]);
    const patient = withSession(desk, { play: { ...desk.session.play, silence: 9.7 } });
    expect(count(patient)).toEqual([6]);
  });

  it('a phrase that is pressed is caught, with all between it and the one pressed before', () => {
    const desk = played(1, 1.5, 10, 10.5, 11, 20, 30, 30.5);
    const [first, second, third] = phrasesIn(desk.live.memory, 40, desk.session);
    if (first === undefined || second === undefined || third === undefined) throw new Error('too few');
    const from = (now: DeskState) => caught(now, 40).map(p => p.from);
    expect(from(desk)).toEqual([30]);
    const one = after(desk, choosePhrase, second);
    expect(from(one)).toEqual([10]);
    expect(from(after(one, choosePhrase, first))).toEqual([1, 10]);
    expect(from(after(after(desk, choosePhrase, first), choosePhrase, third))).toEqual([1, 10, 20]);
    // One of several is then the only one; the only one pressed again is chosen no longer.
    expect(from(after(after(one, choosePhrase, first), choosePhrase, first))).toEqual([1]);
    expect(from(after(one, choosePhrase, second))).toEqual([30]);
    expect(from(after(one, forgetChosen))).toEqual([30]);
    // Whoever plays on means what comes now; what was forgotten by the memory cannot be caught.
    expect(from(after(one, strike, struck(40)))).toEqual([40]);
    expect(caught(after(one, choosePhrase, first), 302).map(p => p.from)).toEqual([10]);
    expect(caught(one, 320).map(p => p.from)).toEqual([30]);
  });

  it('the lateness is that of the device most strikes came from', () => {
    const desk = withSession(EMPTY, { lateness: { pad: 12, keys: 40 } });
    const from = (...names: string[]) =>
      latenessFor(
        desk,
        names.map(name => ({ name })),
      );
    expect([from('keys', 'pad', 'pad'), from('keys', 'keys', 'pad'), from('glove'), from()]).toEqual([
      12, 40, 0, 0,
    ]);
    expect(mostOften([])).toBeUndefined();
    expect(mostOften(['b', 'a'])).toBe('b');
  });
});

describe('the click and what is heard', () => {
  it('a beat that comes after the click was stopped is not shown', () => {
    const going = after(after(EMPTY, setClick, true), setBeat, { beat: 3, inBar: 3 });
    expect(going.live.beat).toEqual({ beat: 3, inBar: 3 });
    const still = after(going, setClick, false);
    expect([still.live.clickRunning, still.live.beat]).toEqual([false, undefined]);
    expect(after(still, setBeat, { beat: 4, inBar: 0 })).toBe(still);
  });

  it('the cursor goes with what is heard', () => {
    const heard = after(after(EMPTY, setHeard, { what: 'page' }), setCursor, 0.75);
    expect([heard.live.hearing?.what, heard.live.cursor]).toEqual(['page', 0.75]);
    expect(after(heard, setHeard, { what: 'take' }).live.cursor).toBe(0.75);
    const silent = after(heard, setHeard, undefined);
    expect([silent.live.hearing, silent.live.cursor]).toEqual([undefined, undefined]);
  });

  it('devices are named, with why there may be none', () => {
    const hint = { kind: 'midi-missing', what: 'None.', kept: '', next: '' } as const;
    const { devices, midiHint } = after(EMPTY, setDevices, ['pad'], hint).live;
    expect([devices, midiHint]).toEqual([['pad'], hint]);
  });
});

describe('lining up', () => {
  it('counts strikes only while it lasts', () => {
    expect(after(EMPTY, countStrike)).toBe(EMPTY);
    const one = after(after(EMPTY, setMeasuring, { strikes: 0, left: 15 }), countStrike);
    expect(one.live.measuring).toEqual({ strikes: 1, left: 15 });
  });

  it('remembers what was found, by device, and forgets one', () => {
    const found = { late: 23, spread: 4, strikes: 20 };
    const two = after(after(EMPTY, setLateness, 'pad', found), setLateness, 'keys', { ...found, late: 5 });
    expect(two.session.lateness).toEqual({ pad: 23, keys: 5 });
    expect(two.live.measured?.device).toBe('keys');
    const one = after(two, forgetLateness, 'pad');
    expect([one.session.lateness, one.live.measured]).toEqual([{ keys: 5 }, undefined]);
  });
});

describe('taps', () => {
  it('are a beat from four on; fewer are refused with their number', () => {
    expect(after(EMPTY, setTaps, [1, 2]).live.taps).toEqual([1, 2]);
    expect(FEWEST_TAPS).toBe(4);
    expect(enoughTaps(EMPTY, [1, 2, 3, 4])).toEqual({ ok: true, value: EMPTY });
    expect(enoughTaps(EMPTY, [1])).toMatchObject({
      problem: { kind: 'out-of-range', what: 'That was one tap; the beat shows from 4 on.' },
    });
    expect(enoughTaps(EMPTY, [1, 2, 3])).toMatchObject({
      problem: { what: 'That was 3 taps; the beat shows from 4 on.' },
    });
  });
});
