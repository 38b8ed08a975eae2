import type { InstrumentId } from '../instruments/instruments.ts';
import type { Part, Plan } from '../plan/plan.ts';
import type { BarSet } from './barSet.ts';
import { type HandLimits, USUAL_LIMITS } from './limits.ts';
import { concertSet, PRESETS } from './presets.ts';

/** What a music room has, and how fast its players are taken to be. */
export interface Room {
  readonly id: string;
  readonly name: string;
  readonly sets: readonly BarSet[];
  /** Set by place in the room ("xylophone", "xylophone 2"); the concert set where absent. */
  readonly chosen: Readonly<Record<string, string>>;
  readonly limits: HandLimits;
}

/** A room as it comes. */
export const newRoom = (id: string, name: string): Room => ({
  id,
  name,
  sets: PRESETS,
  chosen: {},
  limits: USUAL_LIMITS,
});

/** Which of the room's players takes a part: "marimba", or "marimba 2" for the second part for one. */
export const seatOf = (plan: Pick<Plan, 'parts'>, part: Part): string => {
  const alike = plan.parts.filter(p => p.instrument === part.instrument);
  const index = alike.findIndex(p => p.id === part.id);
  return index < 1 ? part.instrument : `${part.instrument} ${String(index + 1)}`;
};

/** The set a part is played on. */
export const setFor = (room: Room, plan: Pick<Plan, 'parts'>, part: Part): BarSet => {
  const wanted = room.chosen[seatOf(plan, part)] ?? `concert-${part.instrument}`;
  return room.sets.find(s => s.id === wanted) ?? concertSet(part.instrument);
};

/** A part's player given another set; the same player keeps it in every piece. */
export const chooseSet = (room: Room, plan: Pick<Plan, 'parts'>, part: Part, set: string): Room => ({
  ...room,
  chosen: { ...room.chosen, [seatOf(plan, part)]: set },
});

/** A room with one of its sets changed. */
export const changeSet = (room: Room, id: string, change: (set: BarSet) => BarSet): Room => ({
  ...room,
  sets: room.sets.map(s => (s.id === id ? change(s) : s)),
});

/** Sets for a part, those that stand for its instrument first. */
export const setsFor = (room: Room, instrument: InstrumentId): readonly BarSet[] => [
  ...room.sets.filter(s => s.plays === instrument),
  ...room.sets.filter(s => s.plays !== instrument),
];
