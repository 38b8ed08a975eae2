import { ok } from '../../../core/foundation/result.ts';
import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import { type MalletId, unusualMallet } from '../../../core/instruments/mallets.ts';
import type { Part, Plan } from '../../../core/plan/plan.ts';
import { type KeptPlaying, MOST_PLAYINGS } from '../../../core/piece/keptPlaying.ts';
import { planOf } from '../../../core/piece/piece.ts';
import { barsWithin, type RehearsedBars } from '../../../core/rehearse/section.ts';
import { SPEED_RANGE } from '../../../core/rehearse/tolerances.ts';
import type { Command } from '../command.ts';
import { NOTHING_TRIED, type PlayedFrom } from '../live.ts';
import type { RehearsalSettings } from '../session.ts';
import { goTo } from './settings.ts';
import { step } from './step.ts';
import { type DeskState, withLive, withSession } from '../state.ts';

/** Parts are rehearsed in Grow, or the cards are back. What was played along goes with it. */
export const rehearse: Command<[on: boolean]> = (desk, on) =>
  ok(
    withSession(withLive(desk, { rehearsed: undefined, ...NOTHING_TRIED }), {
      isRehearsing: on,
    }),
  );

/** Whether strikes are those of a part that is rehearsed now. */
export const isRehearsing = ({ session }: DeskState): boolean =>
  session.isRehearsing && session.view === 'grow';

/** A pupil plays along to the whole piece once, from its beginning, at the speed the teacher left. */
export const playWhole: Command = desk => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return ok(desk);
  // Where a part is alone there is nothing to play along to but itself.
  const own = planOf(piece).parts.length > 1 ? 'left out' : 'as written';
  const set = setRehearsal(desk, { bars: undefined, loop: false, click: true, own });
  const there = set.ok ? goTo(set.value, 'grow') : set;
  return there.ok ? rehearse(there.value, true) : there;
};

/** Changes how parts are rehearsed. */
export const setRehearsal: Command<[change: Partial<RehearsalSettings>]> = (desk, change) =>
  ok(withSession(desk, { rehearsal: { ...desk.session.rehearsal, ...change } }));

/** A device plays a part of its own, or the one of whoever has none. */
export const givePlayer: Command<[device: string, part: string | undefined]> = (desk, device, part) => {
  const { [device]: _, ...others } = desk.session.rehearsal.players;
  return setRehearsal(desk, { players: part === undefined ? others : { ...others, [device]: part } });
};

/** What came of playing along; undefined before, and while it goes on. */
export const setRehearsed: Command<[rehearsed: PlayedFrom | undefined]> = (desk, rehearsed) =>
  ok(withLive(desk, { rehearsed }));

/** Slower by this when a bar is practised, in per cent. */
const SLOWER = 20;

/** One bar over and over, slower than before. */
export const practise: Command<[bar: number]> = (desk, bar) =>
  setRehearsal(desk, {
    bars: { first: bar, last: bar },
    loop: true,
    speed: Math.max(SPEED_RANGE.least, desk.session.rehearsal.speed - SLOWER),
  });

/** What was played is kept beside what is written, the oldest giving way beyond twenty; a step that can be undone. */
export const keepPlaying: Command<[playing: KeptPlaying]> = (desk, playing) =>
  step(desk, 'keep what was played', piece => ({
    ...piece,
    playings: [...(piece.playings ?? []), playing].slice(-MOST_PLAYINGS),
  }));

/** The part of whoever has none of their own, as the plan now has it. */
export const ownPart = (plan: Pick<Plan, 'parts'>, settings: RehearsalSettings): Part | undefined =>
  plan.parts.find(part => part.id === settings.part) ?? plan.parts[0];

/** The part a device plays. */
export const partOfDevice = (
  plan: Pick<Plan, 'parts'>,
  settings: RehearsalSettings,
  device: string,
): Part | undefined =>
  plan.parts.find(part => part.id === settings.players[device]) ?? ownPart(plan, settings);

/** The parts somebody plays: that of whoever has none, and those of the devices that are there. */
export const playedParts = (
  plan: Pick<Plan, 'parts'>,
  settings: RehearsalSettings,
  devices: readonly string[],
): readonly string[] => [
  ...new Set([
    ...[ownPart(plan, settings)].flatMap(part => part?.id ?? []),
    ...devices.flatMap(device => {
      const own = settings.players[device];
      return own === undefined ? [] : (plan.parts.find(part => part.id === own)?.id ?? []);
    }),
  ]),
];

/** The bars to rehearse, brought into the piece as it now is. */
export const barsToRehearse = (settings: RehearsalSettings, barCount: number): RehearsedBars =>
  barsWithin(settings.bars ?? { first: 0, last: barCount - 1 }, barCount);

/** What a device strikes: an instrument, and with what where it is not the usual mallet. */
export interface StruckWith {
  readonly instrument: InstrumentId;
  readonly mallet: MalletId | undefined;
}

/** What a device sounds like: the part it rehearses, or what is chosen in Play. */
export const soundOfDevice = (desk: DeskState, device: string): StruckWith => {
  const { session, document } = desk;
  const piece = document.history?.present.piece;
  const part =
    isRehearsing(desk) && piece !== undefined
      ? partOfDevice(planOf(piece), session.rehearsal, device)
      : undefined;
  const { instrument, mallets } = session.play;
  return part === undefined
    ? { instrument, mallet: unusualMallet(instrument, mallets[instrument]) }
    : { instrument: part.instrument, mallet: unusualMallet(part.instrument, part.mallet) };
};

/** The instrument of a device. */
export const instrumentOfDevice = (desk: DeskState, device: string): InstrumentId =>
  soundOfDevice(desk, device).instrument;
