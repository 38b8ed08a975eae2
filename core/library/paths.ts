// Which files a class library has. The desktop host lets the page reach these and no other.

/** What an id or a revision may be called: safe as a file name on every system. */
export const SAFE_NAME = /^[a-z0-9-]+$/;

/** The folder of all items. */
export const ITEMS = 'items';

/**
 * The file of one revision.
 * @example
 * revisionPath('a', 'r1') // => 'items/a/r1.json'
 */
export const revisionPath = (id: string, revision: string): string => `${ITEMS}/${id}/${revision}.json`;

/** What the name of a draft's revision ends with: it can be told from a version even when it is gone. */
const DRAFT_END = '-draft';

/**
 * The name of a revision.
 * @param name sortable, unique
 * @example
 * revisionName('r1', true) // => 'r1-draft'
 */
export const revisionName = (name: string, isDraft: boolean): string =>
  isDraft ? `${name}${DRAFT_END}` : name;

/** Whether a revision's name is that of a draft. @example isDraftName('r1-draft') // => true */
export const isDraftName = (revision: string): boolean => revision.endsWith(DRAFT_END);

const isName = (name: string): boolean => /^[^\\/:\0]{1,200}$/.test(name) && !name.startsWith('.');

/**
 * Whether a path is one that is listed: the items, or one of them. Sync engines name folders too.
 * @example
 * isListed('items/a (1)') // => true
 * isListed('') // => false
 */
export const isListed = (path: string): boolean => {
  const [top, item, ...more] = path.split('/');
  return top === ITEMS && more.length === 0 && (item === undefined || isName(item));
};

/**
 * Whether a path is one that is read: a JSON file of an item, under our name or a sync engine's.
 * @example
 * isRead('items/a/r1 (1).json') // => true
 * isRead('items/a/key.pem') // => false
 */
export const isRead = (path: string): boolean => {
  const [top, item = '', file = '', ...more] = path.split('/');
  return top === ITEMS && more.length === 0 && isName(item) && isName(file) && file.endsWith('.json');
};

/**
 * Whether a path is one that is written: one revision of one item, under names of ours.
 * @example
 * isWritten('items/a/r1.json') // => true
 * isWritten('items/a/r1 (1).json') // => false
 */
export const isWritten = (path: string): boolean =>
  /^items\/[a-z0-9-]{1,80}\/[a-z0-9-]{1,80}\.json$/.test(path);

/**
 * Whether a path is one that may be removed again: the revision of a draft, under names of ours. Never a version.
 * @example
 * isDropped('items/a/r1-draft.json') // => true
 * isDropped('items/a/r1.json') // => false
 */
export const isDropped = (path: string): boolean => isWritten(path) && path.endsWith(`${DRAFT_END}.json`);

/** Age in milliseconds from which what a cut-off save left behind is cleaned away: a day. */
export const LEFTOVER_AGE = 24 * 60 * 60 * 1000;

/**
 * Whether a file is left over from a save that was cut off: a temporary of ours, or a revision without a
 * single byte, which holds nothing; and old enough that no save and no sync can still be filling it.
 * @param size bytes
 * @param age milliseconds since it was last written
 * @example
 * isLeftover('.r1.json.77.part', 400, LEFTOVER_AGE) // => true
 * isLeftover('r1.json', 400, LEFTOVER_AGE) // => false
 */
export const isLeftover = (file: string, size: number, age: number): boolean =>
  age >= LEFTOVER_AGE && (/^\..+\.json(\.\d+)?\.part$/.test(file) || (size === 0 && file.endsWith('.json')));
