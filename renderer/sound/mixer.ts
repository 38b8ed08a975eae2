import type { Hertz, Seconds } from '../../core/foundation/units.ts';
import { INSTRUMENT_IDS, type InstrumentId } from '../../core/instruments/instruments.ts';
import { createCeiling } from './ceiling.ts';
import { createMotor } from './motor.ts';
import { createRoom } from './room.ts';

/** Level of one stroke before the limiter: the limiter bends nothing until several loud strokes fall together. */
const HEADROOM = 0.6;
const ROOM_LEVEL = 0.14;
/** Where each instrument stands, -1 left to 1 right; near the middle, so that either speaker will do. */
const PLACE: Readonly<Record<InstrumentId, number>> = {
  glockenspiel: 0.3,
  xylophone: -0.3,
  marimba: -0.12,
  vibraphone: 0.15,
};

/** The volume a session starts at: modest, because pupils wear headphones. */
export const START_VOLUME = -12;
/** Loudest the volume goes, dB; after the limiter, so nothing can ever exceed full scale. */
export const TOP_VOLUME = 0;
export const LOWEST_VOLUME = -60;

/** Everything a stroke passes on its way out: motor, place, room, limiter, volume. */
export interface Mixer {
  readonly into: Readonly<Record<InstrumentId, AudioNode>>;
  readonly clickInto: AudioNode;
  /** In dB, -60 to 0; -60 is silent. */
  setVolume(db: number): void;
  /** Swells a second of the vibraphone's motor, 3 to 8; 0 for none. */
  setMotor(swells: Hertz): void;
  /** Lets the room's own sound die at once. */
  emptyRoom(within: Seconds): void;
}

/** dB to a factor. @example factor(-6) // 0.501 */
export const factor = (db: number): number =>
  db <= LOWEST_VOLUME ? 0 : 10 ** (Math.min(db, TOP_VOLUME) / 20);

export const createMixer = (context: BaseAudioContext, volume: number, swells: Hertz = 0): Mixer => {
  const master = new GainNode(context, { gain: factor(volume) });
  master.connect(context.destination);
  const ceiling = createCeiling(context);
  ceiling.output.connect(master);
  const mix = new GainNode(context, { gain: HEADROOM });
  mix.connect(ceiling.input);

  const send = new GainNode(context, { gain: 1 });
  const openRoom = (from: Seconds): { room: ConvolverNode; door: GainNode; level: GainNode } => {
    const door = new GainNode(context, { gain: from > 0 ? 0 : 1 });
    if (from > 0) door.gain.setValueAtTime(1, from);
    const room = createRoom(context);
    const level = new GainNode(context, { gain: ROOM_LEVEL });
    send.connect(door).connect(room).connect(level).connect(mix);
    return { room, door, level };
  };
  let current = openRoom(0);

  const place = (id: InstrumentId): AudioNode => {
    const node = new StereoPannerNode(context, { pan: PLACE[id] });
    node.connect(mix);
    node.connect(send);
    if (id !== 'vibraphone') return node;
    motor.output.connect(node);
    return motor.input;
  };
  const motor = createMotor(context, swells);
  const into = Object.fromEntries(INSTRUMENT_IDS.map(id => [id, place(id)])) as Record<
    InstrumentId,
    AudioNode
  >;

  return {
    into,
    clickInto: mix,
    setVolume: db => {
      master.gain.setTargetAtTime(factor(db), context.currentTime, 0.01);
    },
    setMotor: turns => {
      motor.turn(turns);
    },
    emptyRoom: within => {
      const { room, door, level } = current;
      const now = context.currentTime;
      level.gain.setValueAtTime(ROOM_LEVEL, now);
      level.gain.linearRampToValueAtTime(0, now + within);
      send.disconnect(door);
      // The old room still holds the tail; a new one starts empty, and opens when the strokes are gone.
      current = openRoom(now + within + 0.01);
      setTimeout(() => {
        room.disconnect();
        level.disconnect();
      }, 100);
    },
  };
};
