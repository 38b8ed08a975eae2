import type { Key } from '../../core/foundation/key.ts';
import { modulo } from '../../core/foundation/pitch.ts';
import type { KeyEvidence } from '../../core/motif/suggestKey.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { setFor } from '../../core/playable/musicRoom.ts';
import { toneBarsOf } from '../../core/playable/toneBarSet.ts';
import { currentRoom } from './commands/room.ts';
import { classNow } from './commands/classes.ts';
import type { DeskState } from './state.ts';

const ACCIDENTALS = [1, 3, 6, 8, 10];

/** The key a class works in; of the class that plays now where no name is given. */
export const classKeyOf = (desk: DeskState, className: string): Key | undefined => {
  const named = desk.live.library.classes.find(entry => !entry.away && entry.list.name === className);
  return (className === '' ? classNow(desk) : named?.list)?.key;
};

/**
 * What speaks for a key besides the notes: the key a class works in, and bars that are not set out, in Play
 * or in the room. A whole row of accidentals is always there, so it tells nothing and is left out.
 * @param className whose piece it is; empty where it was given to nobody yet
 */
export const keyEvidence = (desk: DeskState, className: string, instrument: InstrumentId): KeyEvidence => {
  const classKey = classKeyOf(desk, className);
  const plan = firstPlan(instrument, 90);
  const [part] = plan.parts;
  const { lifted } = desk.session.play;
  const there =
    part === undefined
      ? []
      : toneBarsOf(setFor(currentRoom(desk), plan, part)).filter(p => !lifted.includes(modulo(p, 12)));
  const classes = new Set(there.map(p => modulo(p, 12)));
  const setOut = ACCIDENTALS.every(c => classes.has(c))
    ? there.filter(p => !ACCIDENTALS.includes(modulo(p, 12)))
    : there;
  return {
    ...(classKey === undefined ? {} : { classKey }),
    ...(classes.size === 12 || classes.size === 0 ? {} : { setOut }),
  };
};
