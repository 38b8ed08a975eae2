import type { TunedBar } from '../foundation/tunedBar.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { Part, Plan } from '../plan/plan.ts';
import type { ToneBarSet } from './toneBarSet.ts';
import { type HandLimits, USUAL_LIMITS } from './limits.ts';
import { concertSet, PRESETS } from './presets.ts';

/** What a music room has, and how fast its players are taken to be. */
export interface MusicRoom {
  readonly id: string;
  readonly name: string;
  readonly sets: readonly ToneBarSet[];
  /** Set by place in the room ("xylophone", "xylophone 2"); the concert set where absent. */
  readonly chosen: Readonly<Record<string, string>>;
  readonly limits: HandLimits;
  /** The bars of each instrument as they were heard, each struck once; absent where nobody struck them. */
  readonly tuned?: Readonly<Partial<Record<InstrumentId, readonly TunedBar[]>>>;
}

/**
 * A room as it comes.
 * @example
 * newMusicRoom('r1', 'Room 3').chosen // => {}
 */
export const newMusicRoom = (id: string, name: string): MusicRoom => ({
  id,
  name,
  sets: PRESETS,
  chosen: {},
  limits: USUAL_LIMITS,
});

/**
 * Which of the room's players takes a part: "marimba", or "marimba 2" for the second part for one.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * seatOf(plan, plan.parts[0]) // => 'xylophone'
 */
export const seatOf = (plan: Pick<Plan, 'parts'>, part: Part): string => {
  const alike = plan.parts.filter(p => p.instrument === part.instrument);
  const index = alike.findIndex(p => p.id === part.id);
  return index < 1 ? part.instrument : `${part.instrument} ${String(index + 1)}`;
};

/**
 * The set a part is played on.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * setFor(newMusicRoom('r1', ''), plan, plan.parts[0]).id // => 'concert-xylophone'
 */
export const setFor = (room: MusicRoom, plan: Pick<Plan, 'parts'>, part: Part): ToneBarSet => {
  const wanted = room.chosen[seatOf(plan, part)] ?? `concert-${part.instrument}`;
  return room.sets.find(s => s.id === wanted) ?? concertSet(part.instrument);
};

/**
 * A part's player given another set; the same player keeps it in every piece.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * const room = chooseSet(newMusicRoom('r1', ''), plan, plan.parts[0], 'alto-xylophone');
 * setFor(room, plan, plan.parts[0]).name // => 'Alto xylophone'
 */
export const chooseSet = (
  room: MusicRoom,
  plan: Pick<Plan, 'parts'>,
  part: Part,
  set: string,
): MusicRoom => ({
  ...room,
  chosen: { ...room.chosen, [seatOf(plan, part)]: set },
});

/** A room with one of its sets changed. */
export const changeSet = (
  room: MusicRoom,
  id: string,
  change: (set: ToneBarSet) => ToneBarSet,
): MusicRoom => ({
  ...room,
  sets: room.sets.map(s => (s.id === id ? change(s) : s)),
});

/** Sets for a part, those that stand for its instrument first. */
export const setsFor = (room: MusicRoom, instrument: InstrumentId): readonly ToneBarSet[] => [
  ...room.sets.filter(s => s.plays === instrument),
  ...room.sets.filter(s => s.plays !== instrument),
];
