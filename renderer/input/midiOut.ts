import { WebMidi } from 'webmidi';
import type { MidiMessage } from '../../core/exchange/midiMessages.ts';
import { failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Seconds } from '../../core/foundation/units.ts';
import { openOutput } from './midiAccess.ts';
import { outputHeld } from './midiProblems.ts';

/** Something that may be sent to. */
export interface MidiPort {
  readonly id: string;
  readonly name: string;
}

export interface MidiOutOptions {
  /** All that may be sent to now. */
  readonly onPorts: (ports: readonly MidiPort[]) => void;
  /** What was chosen is gone; it is not used again before it is chosen again. */
  readonly onGone: (port: MidiPort) => void;
}

/** The one port that is sent to, by Web MIDI; none before one was chosen. */
export interface MidiOut {
  /** Call whenever something was plugged in or out, once MIDI was asked for. */
  lookAgain(): void;
  /** Uses a port from now on, and lets go of the one before; undefined for none. */
  choose(id: string | undefined): Promise<Result<MidiPort | undefined>>;
  /** @param at on the clock of all input; absent for at once. Without a chosen port nothing is done. */
  send(message: MidiMessage, at?: Seconds): void;
}

// webmidi's own types of a port are an older draft of the same.
const nativePort = (id: string): MIDIPort | undefined =>
  WebMidi.interface.outputs.get(id) as unknown as MIDIPort | undefined;

export const createMidiOut = ({ onPorts, onGone }: MidiOutOptions): MidiOut => {
  let chosen: MidiPort | undefined;
  let told = '';

  const lose = (): void => {
    const gone = chosen;
    chosen = undefined;
    if (gone !== undefined) onGone(gone);
  };

  const chooseNow = async (id: string | undefined): Promise<Result<MidiPort | undefined>> => {
    const before = chosen === undefined ? undefined : nativePort(chosen.id);
    chosen = undefined;
    await before?.close().catch(() => undefined);
    if (id === undefined) return ok(undefined);
    const port = nativePort(id);
    if (port !== undefined) await openOutput(port);
    if (port?.connection !== 'open') return failed(outputHeld(port?.name ?? 'It'));
    chosen = { id, name: port.name ?? id };
    return ok(chosen);
  };

  // One after the other: a port that opens slowly must not be sent to when another, or none, was chosen since.
  let turn: Promise<unknown> = Promise.resolve();

  return {
    lookAgain: () => {
      const ports = WebMidi.outputs
        .filter(output => output.state === 'connected')
        .map(({ id, name }) => ({ id, name }));
      if (chosen !== undefined && !ports.some(port => port.id === chosen?.id)) lose();
      const now = JSON.stringify(ports);
      if (now === told) return;
      told = now;
      onPorts(ports);
    },
    choose: id => {
      const done = turn.then(() => chooseNow(id));
      turn = done.catch(() => undefined);
      return done;
    },
    send: (message, at) => {
      if (chosen === undefined) return;
      try {
        const port = WebMidi.outputs.find(output => output.id === chosen?.id);
        if (port === undefined) lose();
        else port.send([...message], { time: at === undefined ? 0 : at * 1000 });
      } catch {
        // Unplugged, and not yet said.
        lose();
      }
    },
  };
};
