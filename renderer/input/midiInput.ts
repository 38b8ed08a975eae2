import { type Input, type MessageEvent, WebMidi } from 'webmidi';
import type { Problem } from '../../core/foundation/result.ts';
import { readMidi } from '../../core/take/midiBytes.ts';
import { requestAccess } from './midiAccess.ts';
import { midiHeld, midiMissing, midiSilent, problemOf } from './midiProblems.ts';
import { type LetGo, type Struck, type StruckBy, timeOf } from './struck.ts';

export interface MidiInputOptions {
  readonly onStrike: (strike: Struck) => void;
  readonly onRelease: (release: LetGo) => void;
  /** All that is plugged in now; `hint` when there is nothing to hear, and why that may be. */
  readonly onDevices: (devices: readonly StruckBy[], hint: Problem | undefined) => void;
  /** A device was unplugged. */
  readonly onGone?: (device: StruckBy) => void;
  readonly onProblem: (problem: Problem) => void;
  /** Something was plugged in or out, of whatever kind; once at the start, too. */
  readonly onPlugged?: () => void;
  /** Whether channel 10 is bars rather than drums; false unless said. */
  readonly drumsAsPitched?: boolean;
}

export interface MidiInput {
  /** Asks for MIDI and listens to whatever is, and will be, plugged in. Again: looks anew. */
  start(): Promise<void>;
  /** Lets go of every device. */
  stop(): Promise<void>;
  setDrumsAsPitched(on: boolean): void;
}

interface Heard {
  readonly by: StruckBy;
  readonly hang: () => void;
  /** It could not be opened: another program has it. */
  held: boolean;
}

/**
 * webmidi keeps one object for the whole page. Whoever listens is noted on it, so that a module
 * loaded anew by the development server takes over from its older self instead of hearing all twice.
 */
const OWNER = Symbol.for('malletloom.midi.owner');
const owned = WebMidi as unknown as { [OWNER]?: (() => void) | undefined };

/** Starting and stopping take turns: webmidi cannot be enabled while it is being disabled. */
let turn: Promise<void> = Promise.resolve();
const inTurn = (work: () => Promise<void>): Promise<void> => {
  turn = turn.then(work, work);
  return turn;
};

/** Music keyboards and pads, by Web MIDI, without system exclusive messages. */
export const createMidiInput = (options: MidiInputOptions): MidiInput => {
  const heard = new Map<Input, Heard>();
  let drumsAsPitched = options.drumsAsPitched ?? false;
  let listening = false;
  let stopWatching: () => void = () => undefined;

  const listenTo = (input: Input): void => {
    const by: StruckBy = { id: input.id, name: input.name, source: 'midi' };
    let running: number | undefined;
    const hear = (event: MessageEvent): void => {
      const read = readMidi(event.message.data, drumsAsPitched, running);
      running = read.running;
      const { note } = read;
      if (note === undefined) return;
      const at = timeOf(event.timestamp);
      if (note.kind === 'on') options.onStrike({ at, pitch: note.pitch, velocity: note.velocity, by });
      else options.onRelease({ at, pitch: note.pitch, by });
    };
    input.addListener('midimessage', hear);
    const hang = (): void => {
      input.removeListener('midimessage', hear);
    };
    heard.set(input, { by, hang, held: false });
  };

  /** Opens every port that is not open; one that will not is marked, the others go on. */
  const openAll = async (): Promise<void> => {
    await Promise.all(
      [...heard].map(async ([input, entry]) => {
        await input.open();
        entry.held = input.connection !== 'open';
      }),
    );
    if (listening) report();
  };

  /**
   * Brings the listeners in line with what is plugged in. Called on every change: webmidi reports
   * `connected` late, again, or not at all, so what counts is the list, not the event.
   */
  const reconcile = (): void => {
    if (!listening) return;
    options.onPlugged?.();
    const present = new Set(WebMidi.inputs.filter(input => input.state === 'connected'));
    const lost = [...heard].filter(([input]) => !present.has(input));
    const found = [...present].filter(input => !heard.has(input));
    for (const [input, { by, hang }] of lost) {
      hang();
      heard.delete(input);
      options.onGone?.(by);
    }
    found.forEach(listenTo);
    if (lost.length > 0) report();
    if (found.length > 0) void openAll();
  };
  const report = (): void => {
    const all = [...heard.values()];
    const held = all.filter(entry => entry.held).map(({ by }) => by.name);
    options.onDevices(
      all.map(({ by }) => by),
      all.length === 0 ? midiSilent() : held.length > 0 ? midiHeld(held) : undefined,
    );
  };

  const watch = (): void => {
    const access = WebMidi.interface as unknown as EventTarget;
    access.addEventListener('statechange', reconcile);
    stopWatching = () => {
      access.removeEventListener('statechange', reconcile);
    };
  };
  const letGo = (): void => {
    listening = false;
    stopWatching();
    stopWatching = () => undefined;
    for (const { hang } of heard.values()) hang();
    heard.clear();
  };

  const start = async (): Promise<void> => {
    if (owned[OWNER] !== letGo) owned[OWNER]?.();
    owned[OWNER] = letGo;
    if (!WebMidi.supported) {
      options.onProblem(midiMissing('navigator.requestMIDIAccess is missing'));
      return;
    }
    try {
      await WebMidi.enable({ sysex: false, requestMIDIAccessFunction: requestAccess });
    } catch (error) {
      options.onProblem(problemOf(error));
      return;
    }
    if (!listening) {
      listening = true;
      watch();
    }
    reconcile();
    await openAll();
  };

  return {
    start: () => inTurn(start),
    stop: () =>
      inTurn(async () => {
        letGo();
        if (owned[OWNER] !== letGo) return;
        owned[OWNER] = undefined;
        if (WebMidi.enabled) await WebMidi.disable().catch(() => undefined);
      }),
    setDrumsAsPitched: on => {
      drumsAsPitched = on;
    },
  };
};
