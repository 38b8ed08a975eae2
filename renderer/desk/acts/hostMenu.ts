import { effect } from '@preact/signals';
import type { Host, Told } from '../../../core/bridge/host.ts';
import { type MenuAct, type MenuState, MOST_RECENT } from '../../../core/bridge/menu.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import type { AppParts } from '../appParts.ts';
import { complain } from '../commands/messages.ts';
import { nextPupil } from '../commands/pupils.ts';
import { goTo, showWindow } from '../commands/settings.ts';
import { redoStep, undoStep } from '../commands/step.ts';
import type { Desk } from '../desk.ts';
import type { View } from '../session.ts';
import { leaveField } from './leaveField.ts';
import { openAny } from './openAny.ts';
import { printPiece } from './printing.ts';

/** The pieces saved last, newest first; what lies open and what was put away are not offered. */
const recentOf = (entries: readonly RegisterEntry[], openId: string | undefined): MenuState['recent'] =>
  entries
    .filter(entry => !entry.away && entry.id !== openId)
    .sort((a, b) => (a.savedAt < b.savedAt ? 1 : a.savedAt > b.savedAt ? -1 : 0))
    .slice(0, MOST_RECENT)
    .map(({ id, facts }) => ({
      id,
      name: short([facts.title, facts.codeName].filter(word => word !== '').join(', ')),
    }));

/** Longest name in a menu: a menu is as wide as its widest name. */
const MOST_LETTERS = 80;
const short = (name: string): string =>
  name.length > MOST_LETTERS ? `${name.slice(0, MOST_LETTERS - 1)}…` : name;

/** What the menu shows of the desk. */
export const menuStateOf = (desk: Desk): MenuState => {
  const history = desk.history.value;
  const last = history?.past.at(-1)?.name;
  const next = history?.future[0]?.name;
  return {
    undo: last === undefined ? undefined : short(last),
    redo: next === undefined ? undefined : short(next),
    hasPiece: desk.piece.value !== undefined,
    isPupilView: desk.isPupilView.value,
    recent: recentOf(desk.library.value.entries, desk.piece.value?.id),
  };
};

/** A field that is written in undoes its own text, as in every program. */
const inField = (command: 'undo' | 'redo'): boolean => {
  const at = document.activeElement;
  if (!(at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement)) return false;
  // The menu has no event of a key to leave to the field; nothing else undoes in it.
  // eslint-disable-next-line @typescript-eslint/no-deprecated
  return document.execCommand(command);
};

const PLACES: Partial<Record<MenuAct, View>> = {
  play: 'play',
  write: 'write',
  grow: 'grow',
  register: 'keep',
};

const doAct = (app: AppParts, act: MenuAct): void => {
  const { desk, asking, keeper } = app;
  const place = PLACES[act];
  if (act !== 'undo' && act !== 'redo') leaveField();
  const piece = desk.piece.peek();
  if (place !== undefined) {
    // The menu may be a moment behind the desk.
    if (piece === undefined && (place === 'write' || place === 'grow')) return;
    desk.run(showWindow, undefined);
    desk.run(goTo, place);
  } else if (act === 'undo' || act === 'redo') {
    if (!inField(act)) asking.afterwards(act === 'undo' ? undoStep : redoStep);
  } else if (act === 'keep') {
    if (piece !== undefined) void keeper.keep();
  } else if (act === 'print') {
    if (piece !== undefined) void printPiece(desk, piece);
  } else if (act === 'next-pupil') desk.run(nextPupil);
  else if (act === 'projector') {
    if (piece === undefined) return;
    const { view } = desk.now().session;
    if (view !== 'write' && view !== 'grow') desk.run(goTo, piece.plan === undefined ? 'write' : 'grow');
    desk.run(showWindow, 'projector');
  } else desk.run(showWindow, act === 'about' ? 'about' : 'keys');
};

/** Opens every file that waits, in turn. */
const openGiven = async (app: AppParts, host: Pick<Host, 'takeGiven'>): Promise<void> => {
  for (;;) {
    const given = await host.takeGiven();
    if (!given.ok) {
      app.desk.run(complain, given.problem);
      // A file that is no good does not hide the next; a bridge that refuses would do so for ever.
      if (given.problem.kind === 'bad-request') return;
      continue;
    }
    if (given.value === undefined) return;
    const { name, bytes } = given.value;
    await openAny(app, new File([bytes.slice().buffer], name));
  }
};

/**
 * The desktop edition's menu, given files and log follow the desk, and what is chosen there is done here.
 * @returns a way to stop
 */
export const followHost = (app: AppParts, host: Host): (() => void) => {
  const { desk } = app;
  let queue: Promise<void> = Promise.resolve();
  const takeGiven = (): void => {
    queue = queue.then(() => openGiven(app, host)).catch(() => undefined);
  };
  host.onTold((told: Told) => {
    if (told.kind === 'given') takeGiven();
    else if (told.kind === 'act') doAct(app, told.act);
    else {
      leaveField();
      const entry = desk.now().live.library.entries.find(each => each.id === told.id);
      if (entry !== undefined) void app.keeper.open(entry);
    }
  });
  let shown = '';
  const ends = [
    effect(() => {
      const state = menuStateOf(desk);
      const now = JSON.stringify(state);
      if (now === shown) return;
      shown = now;
      void host.showMenu(state);
    }),
    effect(() => {
      const kind = desk.problem.value?.kind;
      if (kind !== undefined) void host.noteProblem(kind);
    }),
  ];
  takeGiven();
  return () => {
    for (const end of ends) end();
  };
};
