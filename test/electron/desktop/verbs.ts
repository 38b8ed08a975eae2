/** What crosses the bridge, by name. */
export const VERBS = [
  'chooseFolder',
  'dropDraft',
  'list',
  'noteProblem',
  'onTold',
  'read',
  'showMenu',
  'takeGiven',
  'tidy',
  'where',
  'writeNew',
] as const;
