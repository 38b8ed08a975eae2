import { isSamePupil, type Pupil } from '../../../core/piece/pupil.ts';
import type { HeardStrike } from '../../../core/take/memory.ts';
import type { SessionState, Turn } from '../session.ts';
import { type DeskState, withSession } from '../state.ts';

/** Turns further back than the five minutes of the memory can hold are of no use. */
const MOST_TURNS = 100;

const withTurns = (desk: DeskState, pupil: Pupil | undefined, turns: readonly Turn[]): DeskState =>
  withSession(desk, {
    pupil,
    turns: turns.slice(-MOST_TURNS),
    className: pupil === undefined || pupil.className === '' ? desk.session.className : pupil.className,
  });

/** The turn under way was this pupil's all along. */
export const turnGiven = (desk: DeskState, pupil: Pupil | undefined): DeskState => {
  const { turns } = desk.session;
  return withTurns(desk, pupil, [...turns.slice(0, -1), { pupil, after: turns.at(-1)?.after }]);
};

/** Somebody else's turn begins with the next strike; the first pupil chosen also has what nobody's turn brought. */
export const turnOf = (desk: DeskState, pupil: Pupil | undefined): DeskState => {
  const { pupil: before, turns } = desk.session;
  if (isSamePupil(before, pupil)) return desk;
  if (before === undefined) return turnGiven(desk, pupil);
  const after = desk.live.memory.strikes.at(-1)?.at ?? turns.at(-1)?.after;
  return withTurns(desk, pupil, [...turns, { pupil, after }]);
};

/** Whether a strike fell in a turn of whoever plays now. */
export const isTheirs = (
  { pupil, turns }: Pick<SessionState, 'pupil' | 'turns'>,
  strike: Pick<HeardStrike, 'at'>,
): boolean => {
  const turn = turns.filter(({ after }) => after === undefined || strike.at > after).at(-1);
  return turn === undefined || isSamePupil(turn.pupil, pupil);
};
