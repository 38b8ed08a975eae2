// @vitest-environment happy-dom
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { perform } from '../../../core/playback/perform.ts';
import { withRepeatBars } from '../../../core/score/repeatBars.ts';
import { setSends } from '../../../renderer/desk/commands/sending.ts';
import { pieceOfFour } from '../../exchange/pieces.ts';
import type { SentMessage } from '../../fakes/webMidi.ts';
import { scoreOf } from '../../gallery/situation.ts';
import { SITUATIONS } from '../../gallery/situations/index.ts';
import { notesIn, notesOfFile } from './midiNotes.ts';
import { BEGINS, hear, ofStatus, sendingDesk, type SendingDesk, sentFrom, settle } from './sendingDesk.ts';

let on: SendingDesk;
beforeEach(async () => {
  on = await sendingDesk();
});
afterEach(async () => {
  await on.input.stop();
});

/** A tick of the file at the slowest tempo of the pieces here, and the millisecond a note lasts at least. */
const CLOSE = 0.0025;

describe('ports that are chosen one right after the other', () => {
  it('the last is sent to, and nothing where that was chosen last', async () => {
    const other = on.midi.plugOut('Pads');
    await settle();
    for (const [last, name] of [
      [undefined, undefined],
      [other, 'Pads'],
    ] as const) {
      await Promise.all([on.sending.choose(on.port), on.sending.choose(last)]);
      expect(on.desk.sentTo.peek()?.name).toBe(name);
      const { outputs } = await navigator.requestMIDIAccess();
      const open = [...outputs.values()].filter(one => one.connection === 'open');
      expect(open.map(one => one.name)).toEqual(name === undefined ? [] : [name]);
    }
  });
});

describe('a page that is heard with MIDI out', () => {
  it('sends nothing, and opens nothing, before a port was chosen', async () => {
    await hear(on, pieceOfFour());
    on.band.pass(5);
    on.listening.stop();
    expect(on.desk.outputs.value).toEqual([{ id: on.port, name: 'Stage piano' }]);
    expect(on.sending.of(pieceOfFour())).toBeUndefined();
    expect(on.midi.sent(on.port)).toEqual([]);
    expect(on.midi.connection(on.port)).toBe('closed');
  });

  it('law: is the MIDI file of the piece, note for note, in every situation there is', async () => {
    await on.sending.choose(on.port);
    const scores = [pieceOfFour(), withRepeatBars(pieceOfFour()), ...SITUATIONS.map(scoreOf)];
    for (const score of scores) {
      const before = on.midi.sent(on.port).length;
      const begins = on.band.now() + 0.1;
      await hear(on, score);
      on.band.pass(perform(score).duration + 0.5);
      expect(on.desk.hearing.value).toBeUndefined();
      const wanted = notesOfFile(score);
      const sent = sentFrom(on, begins).slice(before);
      const heard = notesIn(sent);
      // Each note is ended by its own note-off: none begins again while it sounds.
      const count = (kind: number): number =>
        sent.filter(({ data }) => ((data[0] ?? 0) & 0xf0) === kind).length;
      expect(count(0x80)).toBe(count(0x90));
      // At its end every channel is told so.
      expect(new Set(sent.slice(-score.parts.length).map(({ data }) => data[1]))).toEqual(new Set([123]));
      expect(heard.map(n => [n.channel, n.pitch, n.velocity])).toEqual(
        wanted.map(n => [n.channel, n.pitch, n.velocity]),
      );
      wanted.forEach((note, i) => {
        expect(Math.abs((heard[i]?.on ?? NaN) - note.on)).toBeLessThan(CLOSE);
        expect(Math.abs((heard[i]?.off ?? NaN) - note.off)).toBeLessThan(CLOSE);
      });
    }
    expect(scores.length).toBeGreaterThan(150);
  });

  it('has a channel for each part and its General MIDI sound, or one channel, or the sounds that are set', async () => {
    await on.sending.choose(on.port);
    const score = pieceOfFour();
    await hear(on, score);
    on.band.pass(3);
    const programs = ofStatus(on.midi.sent(on.port), 0xc0, 0xc1, 0xc2, 0xc3).map(({ data }) => data);
    // Programs on the wire, counted from 0 (General MIDI 1 sound set).
    const known = { glockenspiel: 9, vibraphone: 11, marimba: 12, xylophone: 13 };
    expect(programs).toEqual(score.parts.map(({ instrument }, i) => [0xc0 | i, known[instrument]]));
    on.listening.stop();
    on.desk.run(setSends, { isOwn: false, channel: 4, setsSounds: false });
    const before = on.midi.sent(on.port).length;
    await hear(on, score);
    on.band.pass(3);
    on.listening.stop();
    const later = on.midi.sent(on.port).slice(before);
    expect(new Set(later.map(({ data }) => (data[0] ?? 0) & 15))).toEqual(new Set([4]));
    expect(later.some(({ data }) => ((data[0] ?? 0) & 0xf0) === 0xc0 || data[1] === 7)).toBe(false);
  });

  it('is silent here if that is chosen, but for the click; silent parts are silent there', async () => {
    await on.sending.choose(on.port);
    on.desk.run(setSends, { soundsHere: false });
    await hear(on, pieceOfFour(), { countIn: true });
    on.band.pass(8);
    expect(new Set(on.band.here.map(({ bar }) => bar))).toEqual(new Set(['click']));
    expect(on.midi.sent(on.port).some(({ data }) => data[0] === 0x90)).toBe(true);
  });
});

describe('what sounds there', () => {
  const sounding = (messages: readonly SentMessage[]): number => {
    const notes = new Set<string>();
    for (const { data } of [...messages].sort((a, b) => a.timestamp - b.timestamp)) {
      const [status = 0, pitch = 0] = data;
      const key = `${String(status & 15)} ${String(pitch)}`;
      if ((status & 0xf0) === 0x90) notes.add(key);
      else if ((status & 0xf0) === 0x80) notes.delete(key);
    }
    return notes.size;
  };
  const start = async (): Promise<void> => {
    await on.sending.choose(on.port);
    await hear(on, pieceOfFour());
    // Until some note was handed over ahead of its time.
    const isAhead = (): boolean =>
      on.midi
        .sent(on.port)
        .some(
          ({ data, timestamp }) => ((data[0] ?? 0) & 0xf0) === 0x90 && timestamp > on.band.now() * 1000 + 5,
        );
    on.band.pass(2);
    while (!isAhead()) on.band.pass(0.01);
    expect(
      sounding(on.midi.sent(on.port).filter(one => one.timestamp <= on.band.now() * 1000)),
    ).toBeGreaterThan(0);
  };
  const expectEnded = (): void => {
    expect(sounding(on.midi.sent(on.port))).toBe(0);
    // All Notes Off, controller 123 (MIDI 1.0), on each channel in use.
    const off = on.midi.sent(on.port).filter(({ data }) => data[1] === 123 && data[2] === 0);
    expect(new Set(off.map(({ data }) => data[0]))).toEqual(new Set([0xb0, 0xb1, 0xb2, 0xb3]));
    const lastOn = Math.max(
      ...on.midi
        .sent(on.port)
        .flatMap(({ data, timestamp }) => (((data[0] ?? 0) & 0xf0) === 0x90 ? [timestamp] : [])),
    );
    // What was handed over ahead is ended, too.
    expect(Math.max(...off.map(({ timestamp }) => timestamp))).toBeGreaterThan(lastOn);
  };

  const ways: readonly (readonly [string, () => void])[] = [
    [
      'Stop',
      () => {
        on.listening.stop();
      },
    ],
    [
      'another piece that is heard',
      () => {
        on.listening.score('page', pieceOfFour());
      },
    ],
    ['another port', () => void on.sending.choose(undefined)],
  ];
  it.each(ways)('ends with %s', async (_, end) => {
    await start();
    end();
    expectEnded();
  });

  it('ends with the port: it is let go, said, and not used again by itself', async () => {
    await start();
    on.midi.unplug(on.port);
    await settle();
    expect(on.gone).toEqual(['Stage piano']);
    expect(on.desk.hearing.value).toBeUndefined();
    expect(on.desk.sentTo.value).toBeUndefined();
    expect(on.midi.plugOut('Stage piano')).toBe(on.port);
    await settle();
    const before = on.midi.sent(on.port).length;
    await hear(on, pieceOfFour());
    on.band.pass(3);
    expect(on.midi.sent(on.port)).toHaveLength(before);
  });

  it('a port that another program holds is said, and the piece sounds here', async () => {
    on.midi.hold('Stage piano');
    await on.sending.choose(on.port);
    expect(on.desk.problem.value?.what).toBe('Nothing can be sent to Stage piano.');
    expect(on.desk.sentTo.value).toBeUndefined();
    await hear(on, pieceOfFour());
    on.band.pass(1);
    expect(on.band.here.length).toBeGreaterThan(0);
  });
});

/** MIDI 1.0 detailed specification: 24 clocks a crotchet; Start, Stop, Continue; a song position counts semiquavers. */
describe('one device for both ways', () => {
  it('hears its own notes come back, which are no strikes; what is struck on it is', async () => {
    const back = on.midi.plug('Stage piano');
    await settle();
    await on.sending.choose(on.port);
    await hear(on, pieceOfFour());
    const ons: SentMessage[] = [];
    while (on.band.now() < BEGINS + 3) {
      on.band.pass(0.05);
      const due = on.midi
        .sent(on.port)
        .filter(
          ({ data, timestamp }) => ((data[0] ?? 0) & 0xf0) === 0x90 && timestamp / 1000 <= on.band.now(),
        );
      for (const { data, timestamp } of due.slice(ons.length)) {
        on.arrives.at = timestamp / 1000 + 0.004;
        on.midi.send(back, data);
      }
      ons.push(...due.slice(ons.length));
    }
    expect(ons.length).toBeGreaterThan(4);
    expect(on.struck).toEqual([]);
    // The same notes once more are strikes: each comes back once.
    const [last] = ons.slice(-1);
    on.midi.send(back, last?.data ?? []);
    on.arrives.at = on.band.now() + 1;
    on.midi.send(back, [0x90, 20, 90]);
    expect(on.struck.map(({ pitch }) => pitch)).toEqual([last?.data[1], 20]);
    // Another device that strikes the same notes is a player.
    const pad = on.midi.plug('Pad');
    await settle();
    await hear(on, pieceOfFour());
    on.band.pass(0.3);
    const again = on.midi
      .sent(on.port)
      .find(({ data, timestamp }) => data[0] === 0x90 && timestamp / 1000 > on.band.now() - 0.3);
    on.arrives.at = (again?.timestamp ?? NaN) / 1000 + 0.004;
    on.midi.send(pad, again?.data ?? []);
    expect(on.struck.map(({ by }) => by.name)).toEqual(['Stage piano', 'Stage piano', 'Pad']);
  });
});
