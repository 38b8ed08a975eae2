/** What can be chosen in the program's menu that the page does. */
export const MENU_ACTS = [
  'undo',
  'redo',
  'keep',
  'print',
  'next-pupil',
  'play',
  'write',
  'grow',
  'register',
  'projector',
  'help',
  'about',
] as const;
export type MenuAct = (typeof MENU_ACTS)[number];

/** Most pieces the menu offers to open again, newest first. */
export const MOST_RECENT = 8;

/** A piece as the menu names it. */
export interface RecentPiece {
  readonly id: string;
  readonly name: string;
}

/** What the menu shows of the desk. */
export interface MenuState {
  /** Names of the steps that can be taken back and done again; undefined where there is none. */
  readonly undo?: string | undefined;
  readonly redo?: string | undefined;
  readonly hasPiece: boolean;
  /** In the pupil view the menu offers only what the pupil view does. */
  readonly isPupilView: boolean;
  readonly recent: readonly RecentPiece[];
}

/** The menu before the page has said anything. */
export const FIRST_MENU: MenuState = { hasPiece: false, isPupilView: false, recent: [] };
