// @vitest-environment happy-dom
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Problem } from '../../core/foundation/result.ts';
import { createMidiInput, type MidiInput } from '../../renderer/input/midiInput.ts';
import type { LetGo, Struck, StruckBy } from '../../renderer/input/struck.ts';
import { type FakeMidi, installFakeWebMidi } from '../fakes/webMidi.ts';

let midi: FakeMidi;
let inputs: MidiInput[];
let strikes: Struck[];
let releases: LetGo[];
let devices: readonly StruckBy[];
let hint: Problem | undefined;
let gone: StruckBy[];
let problems: Problem[];

const make = (): MidiInput => {
  const input = createMidiInput({
    onStrike: strike => strikes.push(strike),
    onRelease: release => releases.push(release),
    onDevices: (now, why) => {
      devices = now;
      hint = why;
    },
    onGone: device => gone.push(device),
    onProblem: problem => problems.push(problem),
  });
  inputs.push(input);
  return input;
};
/** Lets the ports open. */
const settle = (): Promise<void> => new Promise(resolve => setTimeout(resolve, 5));

beforeEach(() => {
  midi = installFakeWebMidi(window);
  inputs = [];
  strikes = [];
  releases = [];
  devices = [];
  hint = undefined;
  gone = [];
  problems = [];
});
afterEach(async () => {
  for (const input of inputs) await input.stop();
});

describe('music keyboards and pads', () => {
  it('are asked for without system exclusive messages', async () => {
    await make().start();
    expect(midi.asked?.sysex).toBe(false);
  });

  it('plugged in before the start are heard, once, at the time of the event', async () => {
    const id = midi.plug('Pad');
    await make().start();
    expect(devices).toEqual([{ id, name: 'Pad', source: 'midi' }]);
    const at = performance.now() - 3;
    expect(midi.send(id, [0x90, 60, 100], at)).toBe(true);
    midi.send(id, [0x80, 60, 0], at + 1);
    expect(strikes).toHaveLength(1);
    expect(strikes[0]).toMatchObject({ pitch: 60, velocity: 100, at: at / 1000 });
    expect(releases).toHaveLength(1);
  });

  it('plugged in later are heard, each strike once, however often the port reports', async () => {
    await make().start();
    expect(hint?.kind).toBe('midi-silent');
    const id = midi.plug('Pad');
    await settle();
    midi.send(id, [0x90, 62, 90]);
    expect(strikes).toHaveLength(1);
    expect(devices.map(({ name }) => name)).toEqual(['Pad']);
    expect(hint).toBeUndefined();
  });

  it('unplugged and plugged in again lose nothing and double nothing', async () => {
    const id = midi.plug('Pad');
    const other = midi.plug('Keyboard');
    await make().start();
    midi.send(id, [0x90, 60, 100]);
    midi.unplug(id);
    expect(gone.map(({ name }) => name)).toEqual(['Pad']);
    expect(devices.map(({ name }) => name)).toEqual(['Keyboard']);
    midi.send(other, [0x90, 64, 100]);
    expect(midi.send(id, [0x90, 60, 100])).toBe(false);
    expect(midi.plug('Pad')).toBe(id);
    await settle();
    midi.send(id, [0x90, 67, 100]);
    expect(strikes.map(({ pitch, by }) => [pitch, by.name])).toEqual([
      [60, 'Pad'],
      [64, 'Keyboard'],
      [67, 'Pad'],
    ]);
  });

  it('are heard once when it is started twice, or by two of it', async () => {
    const id = midi.plug('Pad');
    const first = make();
    await first.start();
    await first.start();
    midi.send(id, [0x90, 60, 100]);
    expect(strikes).toHaveLength(1);
    // As after a hot reload: a second one is made while the first was never stopped.
    await make().start();
    midi.send(id, [0x90, 60, 100]);
    expect(strikes).toHaveLength(2);
  });

  it('are let go at the stop, and heard again after another start', async () => {
    const id = midi.plug('Pad');
    const input = make();
    await input.start();
    await input.stop();
    expect(midi.send(id, [0x90, 60, 100])).toBe(false);
    await input.start();
    midi.send(id, [0x90, 60, 100]);
    expect(strikes).toHaveLength(1);
  });

  it('may start while it is still stopping', async () => {
    const id = midi.plug('Pad');
    const input = make();
    await input.start();
    void input.stop();
    await input.start();
    midi.send(id, [0x90, 60, 100]);
    expect(strikes).toHaveLength(1);
  });

  it('on channel 10 are drums unless treated as bars', async () => {
    const id = midi.plug('Pad');
    const input = make();
    await input.start();
    midi.send(id, [0x99, 60, 100]);
    expect(strikes).toHaveLength(0);
    input.setDrumsAsPitched(true);
    midi.send(id, [0x99, 60, 100]);
    expect(strikes).toHaveLength(1);
  });

  it('that say nonsense do no harm', async () => {
    const id = midi.plug('Pad');
    await make().start();
    for (const bytes of [[0xf8], [0xfe], [0x90, 60], [0xb0, 1, 2], [0xf0, 1, 0xf7]]) midi.send(id, bytes);
    midi.send(id, [0x90, 60, 100], Number.NaN);
    midi.send(id, [0x90, 62, 100], 1e12);
    expect(strikes.map(({ pitch }) => pitch)).toEqual([60, 62]);
    for (const { at } of strikes) expect(Math.abs(at - performance.now() / 1000)).toBeLessThan(60);
  });
});

describe('what may go wrong', () => {
  it('the person says no: refused, and the screen bars still work', async () => {
    midi.deny();
    await make().start();
    expect(problems.map(({ kind }) => kind)).toEqual(['midi-refused']);
    expect(problems[0]?.kept).toMatch(/screen.*keyboard still work/);
  });

  it('MIDI does not start: missing', async () => {
    midi.refuse();
    await make().start();
    expect(problems.map(({ kind }) => kind)).toEqual(['midi-missing']);
    expect(problems[0]?.kept).toMatch(/screen.*keyboard still work/);
  });

  it('the browser has none: missing', async () => {
    Object.defineProperty(navigator, 'requestMIDIAccess', { value: undefined, configurable: true });
    await make().start();
    expect(problems.map(({ kind }) => kind)).toEqual(['midi-missing']);
  });

  it('after a refusal, a later yes is heard', async () => {
    midi.deny();
    const input = make();
    await input.start();
    midi = installFakeWebMidi(window);
    const id = midi.plug('Pad');
    await input.start();
    midi.send(id, [0x90, 60, 100]);
    expect(strikes).toHaveLength(1);
  });

  it('the list is empty: another program may hold the port', async () => {
    await make().start();
    expect(devices).toEqual([]);
    expect(hint?.next).toMatch(/another program/);
  });

  it('another program holds one device: the others are heard, and looking anew finds it later', async () => {
    midi.hold('Pad');
    const pad = midi.plug('Pad');
    const other = midi.plug('Keyboard');
    const input = make();
    await input.start();
    expect(hint?.what).toBe('Pad cannot be heard.');
    midi.send(other, [0x90, 60, 100]);
    expect(strikes).toHaveLength(1);
    midi.release('Pad');
    await input.start();
    midi.send(pad, [0x90, 62, 100]);
    expect(strikes.map(({ pitch }) => pitch)).toEqual([60, 62]);
    expect(hint).toBeUndefined();
  });

  it('a held device is plugged in later: said, not thrown', async () => {
    await make().start();
    midi.hold('Pad');
    midi.plug('Pad');
    await settle();
    expect(hint?.next).toMatch(/Another program/);
    expect(devices.map(({ name }) => name)).toEqual(['Pad']);
  });
});
