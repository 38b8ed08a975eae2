import { ok } from '../../../core/foundation/result.ts';
import type { TunedBar } from '../../../core/foundation/tunedBar.ts';
import { learnBars } from '../../../core/hearing/barSet.ts';
import type { InstrumentId } from '../../../core/instruments/instruments.ts';
import type { Command } from '../command.ts';
import { type DeskState, withLive } from '../state.ts';
import { changeRoom, currentRoom } from './room.ts';

/** How the room's bars of an instrument are tuned; none where nobody struck them. */
export const tunedBarsOf = (desk: DeskState, instrument: InstrumentId): readonly TunedBar[] =>
  currentRoom(desk).tuned?.[instrument] ?? [];

/** From now on what is struck in the room is no music, but each bar once; undefined: music again. */
export const setLearning: Command<[pitches: readonly number[] | undefined]> = (desk, learning) =>
  ok(withLive(desk, { learning }));

/** One more bar was struck, while they are learnt. */
export const addLearning: Command<[pitch: number]> = (desk, pitch) => {
  const { learning } = desk.live;
  return ok(learning === undefined ? desk : withLive(desk, { learning: [...learning, pitch] }));
};

/** What was struck is how the room's bars are tuned. Problems: those of `learnBars`. */
export const keepLearnt: Command = desk => {
  const { instrument } = desk.session.play;
  const bars = learnBars(desk.live.learning ?? []);
  if (!bars.ok) return bars;
  const kept = changeRoom(desk, 'bars of the room learnt', room => ({
    ...room,
    tuned: { ...room.tuned, [instrument]: bars.value },
  }));
  return kept.ok
    ? ok(withLive(kept.value, { learning: [], notice: `${String(bars.value.length)} bars are known now.` }))
    : kept;
};

/** The room's bars of the instrument in Play are taken to be in tune again. */
export const forgetLearnt: Command = desk => {
  const { instrument } = desk.session.play;
  return changeRoom(desk, 'bars of the room forgotten', room => {
    const { [instrument]: _, ...tuned } = room.tuned ?? {};
    return { ...room, tuned };
  });
};
