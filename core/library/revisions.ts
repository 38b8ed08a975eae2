import type { RegisterEntry } from './library.ts';
import type { Saved } from './saved.ts';

const newestFirst = (a: Saved, b: Saved): number =>
  a.revision < b.revision ? 1 : a.revision > b.revision ? -1 : 0;

/**
 * The newest revisions of one item, newest first: those that no other was made from. More than one
 * means that two machines saved from the same revision; both are kept.
 */
export const newestRevisions = (revisions: readonly Saved[]): readonly Saved[] => {
  const parents = new Set(revisions.flatMap(saved => saved.parents));
  const heads = revisions.filter(saved => !parents.has(saved.revision));
  // Files that name each other in a ring were not made by us; the newest still shows.
  return [...(heads.length > 0 ? heads : revisions)].sort(newestFirst);
};

/** The line of the register for one item; undefined when no revision of it could be read. */
export const entryOf = (revisions: readonly Saved[]): RegisterEntry | undefined => {
  const [head, ...rivals] = newestRevisions(revisions);
  if (head === undefined) return undefined;
  const { id, revision, savedAt, piece } = head;
  return {
    id,
    revision,
    savedAt,
    piece,
    revisions: revisions.length,
    rivals: rivals.map(saved => saved.revision),
  };
};

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The order of the register: code name, then title, then newest first. */
export const inRegisterOrder = (entries: readonly RegisterEntry[]): RegisterEntry[] =>
  [...entries].sort(
    (a, b) =>
      byText(a.piece.codeName.toLowerCase(), b.piece.codeName.toLowerCase()) ||
      byText(a.piece.title.toLowerCase(), b.piece.title.toLowerCase()) ||
      byText(b.revision, a.revision),
  );
