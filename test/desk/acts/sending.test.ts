// @vitest-environment happy-dom
import { type MidiEvent, parseMidi } from 'midi-file';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { standardMidi } from '../../../core/exchange/standardMidi.ts';
import { fraction } from '../../../core/foundation/fraction.ts';
import { perform } from '../../../core/playback/perform.ts';
import type { Score } from '../../../core/score/score.ts';
import { withRepeatBars } from '../../../core/score/repeatBars.ts';
import { createListening } from '../../../renderer/desk/acts/listening.ts';
import { createSending, type Sending } from '../../../renderer/desk/acts/sending.ts';
import { setOutputs, setSends, setSentTo } from '../../../renderer/desk/commands/sending.ts';
import { createDesk, type Desk } from '../../../renderer/desk/desk.ts';
import { createMidiInput, type MidiInput } from '../../../renderer/input/midiInput.ts';
import { createMidiOut, type MidiOut } from '../../../renderer/input/midiOut.ts';
import type { Struck } from '../../../renderer/input/struck.ts';
import type { Sound } from '../../../renderer/sound/sound.ts';
import { pieceOfFour } from '../../exchange/pieces.ts';
import { type FakeMidi, installFakeWebMidi, type SentMessage } from '../../fakes/webMidi.ts';
import { scoreOf } from '../../gallery/situation.ts';
import { SITUATIONS } from '../../gallery/situations/index.ts';
import { AHEAD_OF_AUDIO, handBand } from '../../sound/handBand.ts';

let midi: FakeMidi;
let desk: Desk;
let band: ReturnType<typeof handBand>;
let input: MidiInput;
let out: MidiOut;
let sending: Sending;
let gone: string[];
let struck: Struck[];
let arrives: number | undefined;
let port: string;
let listening: ReturnType<typeof createListening>;

/** Lets ports open. */
const settle = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 5));

beforeEach(async () => {
  midi = installFakeWebMidi(window);
  desk = createDesk();
  band = handBand();
  gone = [];
  struck = [];
  arrives = undefined;
  port = midi.plugOut('Stage piano');
  out = createMidiOut({
    onPorts: ports => {
      desk.run(setOutputs, ports);
    },
    onGone: lost => {
      listening.stop();
      desk.run(setSentTo, undefined);
      gone.push(lost.name);
    },
  });
  const sound = {
    start: () => Promise.resolve({ ok: true, value: undefined }),
    play: band.play,
  } as unknown as Sound;
  listening = createListening(sound, desk, () => sending);
  sending = createSending(desk, out, band.now, listening.stop);
  input = createMidiInput({
    onStrike: one => {
      // The band's clock is the test's own: what comes in comes when the test says.
      const heard = { ...one, at: arrives ?? one.at };
      if (!sending.isEcho(heard)) struck.push(heard);
    },
    onRelease: () => undefined,
    onDevices: () => undefined,
    onProblem: () => undefined,
    onPlugged: () => {
      out.lookAgain();
    },
  });
  await input.start();
});
afterEach(async () => {
  await input.stop();
});

interface Note {
  readonly channel: number;
  readonly pitch: number;
  readonly velocity: number;
  readonly on: number;
  readonly off: number;
}
const byTime = (a: Note, b: Note): number => a.on - b.on || a.channel - b.channel || a.pitch - b.pitch;

/** Notes of messages in the order in which they leave: by their times, then as they were handed over. */
const notesIn = (
  messages: readonly { readonly at: number; readonly data: readonly number[] }[],
): readonly Note[] => {
  const open = new Map<string, Note>();
  const done: Note[] = [];
  for (const { at, data } of [...messages].sort((a, b) => a.at - b.at)) {
    const [status = 0, pitch = 0, velocity = 0] = data;
    const key = `${String(status & 15)} ${String(pitch)}`;
    const kind = status & 0xf0;
    if (kind === 0x90) {
      const before = open.get(key);
      if (before !== undefined) done.push({ ...before, off: at });
      open.set(key, { channel: status & 15, pitch, velocity, on: at, off: NaN });
    } else if (kind === 0x80) {
      const before = open.get(key);
      if (before !== undefined) done.push({ ...before, off: at });
      open.delete(key);
    }
  }
  expect([...open.keys()]).toEqual([]);
  return done.sort(byTime);
};

/** The notes of a MIDI file by midi-file, in seconds by its own tempi. */
const notesOfFile = (score: Score): readonly Note[] => {
  const { header, tracks } = parseMidi(standardMidi(score));
  const placed = tracks.map(track => {
    let tick = 0;
    return track.map((event: MidiEvent) => ({ tick: (tick += event.deltaTime), event }));
  });
  const tempi = placed
    .flat()
    .flatMap(({ tick, event }) =>
      event.type === 'setTempo'
        ? [{ tick, each: event.microsecondsPerBeat / 1e6 / (header.ticksPerBeat ?? 1) }]
        : [],
    );
  const seconds = (tick: number): number =>
    tempi.reduce((sum, { tick: from, each }, i) => {
      const to = Math.min(tick, tempi[i + 1]?.tick ?? Infinity);
      return sum + Math.max(0, to - from) * each;
    }, 0);
  return notesIn(
    placed
      .flat()
      .flatMap(({ tick, event }) =>
        event.type === 'noteOn' && event.velocity > 0
          ? [{ at: seconds(tick), data: [0x90 | event.channel, event.noteNumber, event.velocity] }]
          : event.type === 'noteOff' || event.type === 'noteOn'
            ? [{ at: seconds(tick) - 1e-7, data: [0x80 | event.channel, event.noteNumber, 0] }]
            : [],
      ),
  );
};

/** When the piece begins, on the input clock: the player takes a tenth of a second to prepare. */
const BEGINS = 0.1 + AHEAD_OF_AUDIO;
const sentFrom = (begins = BEGINS): readonly { readonly at: number; readonly data: readonly number[] }[] =>
  midi.sent(port).map(({ timestamp, data }) => ({ at: timestamp / 1000 - begins, data }));
const ofStatus = (messages: readonly SentMessage[], ...statuses: readonly number[]): readonly SentMessage[] =>
  messages.filter(({ data }) => statuses.includes(data[0] ?? 0));

const hear = async (score: Score, options = {}): Promise<void> => {
  listening.score('piece', score, options);
  await settle();
};
/** A tick of the file at the slowest tempo of the pieces here, and the millisecond a note lasts at least. */
const CLOSE = 0.0025;

describe('ports that are chosen one right after the other', () => {
  it('the last is sent to, and nothing where that was chosen last', async () => {
    const other = midi.plugOut('Pads');
    await settle();
    for (const [last, name] of [
      [undefined, undefined],
      [other, 'Pads'],
    ] as const) {
      await Promise.all([sending.choose(port), sending.choose(last)]);
      expect(desk.sentTo.peek()?.name).toBe(name);
      const { outputs } = await navigator.requestMIDIAccess();
      const open = [...outputs.values()].filter(one => one.connection === 'open');
      expect(open.map(one => one.name)).toEqual(name === undefined ? [] : [name]);
    }
  });
});

describe('a page that is heard with MIDI out', () => {
  it('sends nothing, and opens nothing, before a port was chosen', async () => {
    await hear(pieceOfFour());
    band.pass(5);
    listening.stop();
    expect(desk.outputs.value).toEqual([{ id: port, name: 'Stage piano' }]);
    expect(sending.of(pieceOfFour())).toBeUndefined();
    expect(midi.sent(port)).toEqual([]);
    expect(midi.connection(port)).toBe('closed');
  });

  it('law: is the MIDI file of the piece, note for note, in every situation there is', async () => {
    await sending.choose(port);
    const scores = [pieceOfFour(), withRepeatBars(pieceOfFour()), ...SITUATIONS.map(scoreOf)];
    for (const score of scores) {
      const before = midi.sent(port).length;
      const begins = band.now() + 0.1;
      await hear(score);
      band.pass(perform(score).duration + 0.5);
      expect(desk.hearing.value).toBeUndefined();
      const wanted = notesOfFile(score);
      const sent = sentFrom(begins).slice(before);
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
    await sending.choose(port);
    const score = pieceOfFour();
    await hear(score);
    band.pass(3);
    const programs = ofStatus(midi.sent(port), 0xc0, 0xc1, 0xc2, 0xc3).map(({ data }) => data);
    // Programs on the wire, counted from 0 (General MIDI 1 sound set).
    const known = { glockenspiel: 9, vibraphone: 11, marimba: 12, xylophone: 13 };
    expect(programs).toEqual(score.parts.map(({ instrument }, i) => [0xc0 | i, known[instrument]]));
    listening.stop();
    desk.run(setSends, { isOwn: false, channel: 4, setsSounds: false });
    const before = midi.sent(port).length;
    await hear(score);
    band.pass(3);
    listening.stop();
    const later = midi.sent(port).slice(before);
    expect(new Set(later.map(({ data }) => (data[0] ?? 0) & 15))).toEqual(new Set([4]));
    expect(later.some(({ data }) => ((data[0] ?? 0) & 0xf0) === 0xc0 || data[1] === 7)).toBe(false);
  });

  it('is silent here if that is chosen, but for the click; silent parts are silent there', async () => {
    await sending.choose(port);
    desk.run(setSends, { soundsHere: false });
    await hear(pieceOfFour(), { countIn: true });
    band.pass(8);
    expect(new Set(band.here.map(({ bar }) => bar))).toEqual(new Set(['click']));
    expect(midi.sent(port).some(({ data }) => data[0] === 0x90)).toBe(true);
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
    await sending.choose(port);
    await hear(pieceOfFour());
    // Until some note was handed over ahead of its time.
    const isAhead = (): boolean =>
      midi
        .sent(port)
        .some(({ data, timestamp }) => ((data[0] ?? 0) & 0xf0) === 0x90 && timestamp > band.now() * 1000 + 5);
    band.pass(2);
    while (!isAhead()) band.pass(0.01);
    expect(sounding(midi.sent(port).filter(one => one.timestamp <= band.now() * 1000))).toBeGreaterThan(0);
  };
  const expectEnded = (): void => {
    expect(sounding(midi.sent(port))).toBe(0);
    // All Notes Off, controller 123 (MIDI 1.0), on each channel in use.
    const off = midi.sent(port).filter(({ data }) => data[1] === 123 && data[2] === 0);
    expect(new Set(off.map(({ data }) => data[0]))).toEqual(new Set([0xb0, 0xb1, 0xb2, 0xb3]));
    const lastOn = Math.max(
      ...midi
        .sent(port)
        .flatMap(({ data, timestamp }) => (((data[0] ?? 0) & 0xf0) === 0x90 ? [timestamp] : [])),
    );
    // What was handed over ahead is ended, too.
    expect(Math.max(...off.map(({ timestamp }) => timestamp))).toBeGreaterThan(lastOn);
  };

  const ways: readonly (readonly [string, () => void])[] = [
    [
      'Stop',
      () => {
        listening.stop();
      },
    ],
    [
      'another piece that is heard',
      () => {
        listening.score('page', pieceOfFour());
      },
    ],
    ['another port', () => void sending.choose(undefined)],
  ];
  it.each(ways)('ends with %s', async (_, end) => {
    await start();
    end();
    expectEnded();
  });

  it('ends with the port: it is let go, said, and not used again by itself', async () => {
    await start();
    midi.unplug(port);
    await settle();
    expect(gone).toEqual(['Stage piano']);
    expect(desk.hearing.value).toBeUndefined();
    expect(desk.sentTo.value).toBeUndefined();
    expect(midi.plugOut('Stage piano')).toBe(port);
    await settle();
    const before = midi.sent(port).length;
    await hear(pieceOfFour());
    band.pass(3);
    expect(midi.sent(port)).toHaveLength(before);
  });

  it('a port that another program holds is said, and the piece sounds here', async () => {
    midi.hold('Stage piano');
    await sending.choose(port);
    expect(desk.problem.value?.what).toBe('Nothing can be sent to Stage piano.');
    expect(desk.sentTo.value).toBeUndefined();
    await hear(pieceOfFour());
    band.pass(1);
    expect(band.here.length).toBeGreaterThan(0);
  });
});

/** MIDI 1.0 detailed specification: 24 clocks a crotchet; Start, Stop, Continue; a song position counts semiquavers. */
describe('MIDI clock', () => {
  const CLOCK = 0xf8;
  const realTime = (from: number) =>
    midi
      .sent(port)
      .filter(({ data }) => (data[0] ?? 0) >= 0xf2)
      .map(({ data, timestamp }) => ({ data, at: timestamp / 1000 - from }));
  const clocked = async (): Promise<void> => {
    await sending.choose(port);
    desk.run(setSends, { clock: true });
  };
  /** Four bars of 4/4 at 120, then at 60 from the third. */
  const twoTempi = (): Score => {
    const { swing: _, ...score } = pieceOfFour();
    return { ...score, tempo: 120, tempi: [{ at: fraction(2), tempo: 60 }] };
  };

  it('is not sent unless it is chosen', async () => {
    await sending.choose(port);
    await hear(twoTempi());
    band.pass(2);
    listening.stop();
    expect(realTime(0)).toEqual([]);
  });

  it('starts before its first pulse, beats 24 to the crotchet through a new tempo, and stops', async () => {
    await clocked();
    await hear(twoTempi());
    band.pass(7);
    listening.stop();
    const all = realTime(BEGINS);
    expect(all[0]?.data).toEqual([0xfa]);
    const pulses = all.filter(({ data }) => data[0] === CLOCK).map(({ at }) => at);
    expect((pulses[0] ?? 0) - (all[0]?.at ?? 0)).toBeGreaterThanOrEqual(0.00099);
    // 120 crotchets a minute for two bars: 192 clocks in four seconds; then half as quick.
    pulses.slice(0, 280).forEach((at, i) => {
      expect(at).toBeCloseTo(i < 192 ? i / 48 : 4 + (i - 192) / 24, 4);
    });
    expect(pulses.length).toBeGreaterThan(192 + 60);
    expect(all.filter(({ data }) => data[0] === 0xfc)).toHaveLength(1);
    expect(all.at(-1)?.data).toEqual([0xfc]);
  });

  it('goes on from a place with its song position, and comes round in a loop', async () => {
    await clocked();
    await hear(twoTempi(), { from: 1 });
    band.pass(0.4);
    listening.stop();
    // A bar of 4/4 is sixteen semiquavers.
    expect(
      realTime(BEGINS)
        .slice(0, 3)
        .map(({ data }) => data),
    ).toEqual([[0xf2, 16, 0], [0xfb], [CLOCK]]);
    const before = realTime(0).length;
    const begins = band.now() + 0.1;
    await hear(twoTempi(), { bar: 2 });
    // The second bar lasts two seconds.
    band.pass(5);
    listening.stop();
    const told = realTime(begins)
      .slice(before)
      .filter(({ data }) => data[0] !== CLOCK)
      .map(({ data, at }) => [...data, Number(at.toFixed(2))]);
    expect(told).toEqual([
      [0xf2, 16, 0, -0],
      [0xfb, -0],
      [0xfc, 2],
      [0xf2, 16, 0, 2],
      [0xfb, 2],
      [0xfc, 4],
      [0xf2, 16, 0, 4],
      [0xfb, 4],
      [0xfc, 4.9],
    ]);
  });

  it('waits for the music where a bar is counted in', async () => {
    await clocked();
    await hear(twoTempi(), { countIn: true });
    band.pass(4);
    listening.stop();
    const [first, second] = realTime(BEGINS);
    expect(first?.data).toEqual([0xfa]);
    // Four crotchets at 120.
    expect(second?.at).toBeCloseTo(2, 6);
  });
});

describe('one device for both ways', () => {
  it('hears its own notes come back, which are no strikes; what is struck on it is', async () => {
    const back = midi.plug('Stage piano');
    await settle();
    await sending.choose(port);
    await hear(pieceOfFour());
    const ons: SentMessage[] = [];
    while (band.now() < BEGINS + 3) {
      band.pass(0.05);
      const due = midi
        .sent(port)
        .filter(({ data, timestamp }) => ((data[0] ?? 0) & 0xf0) === 0x90 && timestamp / 1000 <= band.now());
      for (const { data, timestamp } of due.slice(ons.length)) {
        arrives = timestamp / 1000 + 0.004;
        midi.send(back, data);
      }
      ons.push(...due.slice(ons.length));
    }
    expect(ons.length).toBeGreaterThan(4);
    expect(struck).toEqual([]);
    // The same notes once more are strikes: each comes back once.
    const [last] = ons.slice(-1);
    midi.send(back, last?.data ?? []);
    arrives = band.now() + 1;
    midi.send(back, [0x90, 20, 90]);
    expect(struck.map(({ pitch }) => pitch)).toEqual([last?.data[1], 20]);
    // Another device that strikes the same notes is a player.
    const pad = midi.plug('Pad');
    await settle();
    await hear(pieceOfFour());
    band.pass(0.3);
    const again = midi
      .sent(port)
      .find(({ data, timestamp }) => data[0] === 0x90 && timestamp / 1000 > band.now() - 0.3);
    arrives = (again?.timestamp ?? NaN) / 1000 + 0.004;
    midi.send(pad, again?.data ?? []);
    expect(struck.map(({ by }) => by.name)).toEqual(['Stage piano', 'Stage piano', 'Pad']);
  });
});
