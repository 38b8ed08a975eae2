import { type ClassList, pupilAfter } from '../../../core/library/classList.ts';
import { ok } from '../../../core/foundation/result.ts';
import type { Pupil } from '../../../core/piece/pupil.ts';
import type { Command } from '../command.ts';
import { type DeskState, withSession } from '../state.ts';

/** Classes that were not put away. */
const shown = (desk: DeskState): readonly ClassList[] =>
  desk.live.library.classes.filter(entry => !entry.away).map(entry => entry.list);

/** The class whose pupils play: the one chosen, or the only one there is. */
export const classNow = (desk: DeskState): ClassList | undefined => {
  const lists = shown(desk);
  const chosen = lists.find(list => list.name === desk.session.className);
  return chosen ?? (desk.session.className === '' && lists.length === 1 ? lists[0] : undefined);
};

/** Who comes after whoever plays now. */
export const nextOf = (desk: DeskState): Pupil | undefined => {
  const list = classNow(desk);
  if (list === undefined) return undefined;
  const { pupil } = desk.session;
  const codeName = pupilAfter(list, pupil?.className === list.name ? pupil.codeName : undefined);
  return codeName === undefined ? undefined : { codeName, className: list.name };
};

/** Chooses the class whose register is shown and whose pupils come next; empty for every class. */
export const chooseClass: Command<[className: string]> = (desk, className) =>
  ok(withSession(desk, { className }));
