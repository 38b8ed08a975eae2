import { mergedClass } from './classList.ts';
import type { ClassEntry, RegisterEntry } from './library.ts';
import type { SavedClass, Stamp } from './revision.ts';
import type { Sketch } from './sketch.ts';

const newestFirst = (a: Stamp, b: Stamp): number =>
  a.revision < b.revision ? 1 : a.revision > b.revision ? -1 : 0;

/** Revisions in the order of the list of versions: newest first. */
export const inOrderOfTime = <T extends Stamp>(revisions: readonly T[]): readonly T[] =>
  [...revisions].sort(newestFirst);

/**
 * The newest revisions of one item, newest first: those that no other was made from. More than one
 * means that two machines saved from the same revision; both are kept.
 */
export const newestRevisions = <T extends Stamp>(revisions: readonly T[]): readonly T[] => {
  const parents = new Set(revisions.flatMap(saved => saved.parents));
  const heads = revisions.filter(saved => !parents.has(saved.revision));
  // Files that name each other in a ring were not made by us; the newest still shows.
  return inOrderOfTime(heads.length > 0 ? heads : revisions);
};

/** The line of the register for one item; undefined when no revision of it could be read. */
export const entryOf = (revisions: readonly Sketch[]): RegisterEntry | undefined => {
  const [head, ...rivals] = newestRevisions(revisions);
  if (head === undefined) return undefined;
  const { id, revision, savedAt, facts } = head;
  return {
    id,
    revision,
    savedAt,
    facts,
    revisions: revisions.length,
    rivals: rivals.map(saved => saved.revision),
    draft: head.draft === true,
    keptAt: inOrderOfTime(revisions).find(saved => saved.draft !== true)?.savedAt,
    away: head.away === true,
  };
};

/** A class as all its newest revisions have it together; undefined when none could be read. */
export const classOf = (revisions: readonly SavedClass[]): ClassEntry | undefined => {
  const heads = newestRevisions(revisions);
  const [head, ...others] = heads;
  if (head === undefined) return undefined;
  return {
    list: mergedClass(
      head.list,
      others.map(other => other.list),
    ),
    heads: heads.map(saved => saved.revision),
    savedAt: head.savedAt,
    away: head.away === true,
  };
};

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** The order of the register: code name, then title, then newest first. */
export const inRegisterOrder = (entries: readonly RegisterEntry[]): RegisterEntry[] =>
  [...entries].sort(
    (a, b) =>
      byText(a.facts.codeName.toLowerCase(), b.facts.codeName.toLowerCase()) ||
      byText(a.facts.title.toLowerCase(), b.facts.title.toLowerCase()) ||
      byText(b.revision, a.revision),
  );

/** Classes by name. */
export const inClassOrder = (classes: readonly ClassEntry[]): ClassEntry[] =>
  [...classes].sort(
    (a, b) => byText(a.list.name.toLowerCase(), b.list.name.toLowerCase()) || byText(a.list.id, b.list.id),
  );
