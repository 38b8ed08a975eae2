import { z } from '../../core/foundation/schema.ts';
import { INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import type { TunedBar } from '../../core/foundation/tunedBar.ts';
import type { ToneBarSet, ExchangeToneBar } from '../../core/playable/toneBarSet.ts';
import { type HandLimits, LEAST_LIMIT, MOST_LIMIT } from '../../core/playable/limits.ts';
import type { MusicRoom } from '../../core/playable/musicRoom.ts';

const NAME = 'malletloom.rooms';

/** The rooms this machine knows, and the one it stands in. */
export interface Rooms {
  readonly all: readonly MusicRoom[];
  readonly current: string;
}

type Fields<T> = Readonly<Record<keyof T, z.ZodType>>;
const pitch = z.int().min(0).max(127);
const limit = z.number().min(LEAST_LIMIT).max(MOST_LIMIT);
const text = z.string().max(80);
const tunedBar = z.strictObject({
  sounding: pitch,
  pitch: z.number().min(-1).max(128),
} satisfies Fields<TunedBar>);
const set = z.strictObject({
  id: text,
  name: text,
  plays: z.enum(Object.keys(INSTRUMENTS) as InstrumentId[]),
  soundsAbove: z.int().min(-48).max(48),
  low: pitch,
  high: pitch,
  accidentals: z.boolean(),
  missing: z.array(pitch),
  lifted: z.array(pitch),
  exchange: z.array(
    z.strictObject({ pitch, inPlaceOf: pitch, isIn: z.boolean() } satisfies Fields<ExchangeToneBar>),
  ),
} satisfies Fields<ToneBarSet>);
/** A music room, as it is stored. */
export const roomShape = z.strictObject({
  id: text,
  name: text,
  sets: z.array(set),
  chosen: z.record(text, text),
  limits: z.strictObject({
    sameHand: limit,
    alternating: limit,
    hardCap: limit,
    leap: limit,
  } satisfies Fields<HandLimits>),
  // Absent in what was stored before bars could be learnt.
  tuned: z
    .partialRecord(z.enum(Object.keys(INSTRUMENTS) as InstrumentId[]), z.array(tunedBar).max(128))
    .exactOptional(),
} satisfies Fields<MusicRoom>);
const rooms: z.ZodType<Rooms> = z
  .strictObject({ all: z.array(roomShape).min(1), current: text } satisfies Fields<Rooms>)
  .refine(r => r.all.some(one => one.id === r.current));

/** What was stored on this machine; undefined where nothing was, or it is damaged. */
export const storedRooms = (): Rooms | undefined => {
  try {
    const found = rooms.safeParse(JSON.parse(localStorage.getItem(NAME) ?? 'null'));
    return found.success ? found.data : undefined;
  } catch {
    return undefined;
  }
};

/** Remembers them on this machine; a browser that stores nothing only forgets them at the end. */
export const storeRooms = (all: Rooms): void => {
  try {
    localStorage.setItem(NAME, JSON.stringify(all));
  } catch {
    // Private windows may refuse; the rooms hold until the window is closed.
  }
};
