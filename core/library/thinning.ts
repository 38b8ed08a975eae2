import { isDraftName } from './paths.ts';
import { newestRevisions } from './revisions.ts';
import type { Stamp } from './revision.ts';

/**
 * The drafts of one item that nothing needs any more: older than a moment, followed by another revision, and
 * with every revision they were made from named by another one too, so that without them the same revisions
 * are the newest. What somebody kept is never among them, nor the last draft.
 * @param revisions of one item
 * @param before ISO 8601: a draft that was saved later stays
 * @returns names of revisions, oldest first
 * @example
 * const kept = { id: 'a', revision: 'r1', parents: [], savedAt: '2026-01-05' };
 * const draft = { id: 'a', revision: 'r2-draft', parents: ['r1'], savedAt: '2026-01-06' };
 * const last = { id: 'a', revision: 'r3-draft', parents: ['r2-draft', 'r1'], savedAt: '2026-01-07' };
 * superfluousDrafts([kept, draft, last], '2026-02-01') // => ['r2-draft']
 */
export const superfluousDrafts = (revisions: readonly Stamp[], before: string): readonly string[] => {
  const heads = new Set(newestRevisions(revisions).map(one => one.revision));
  /** How many of those that stay were made from a revision. */
  const namedBy = new Map<string, number>();
  const name = (parents: readonly string[], by: number): void => {
    for (const parent of new Set(parents)) namedBy.set(parent, (namedBy.get(parent) ?? 0) + by);
  };
  for (const one of revisions) name(one.parents, 1);
  const there = new Set(revisions.map(one => one.revision));
  const gone: string[] = [];
  for (const one of [...revisions].sort((a, b) => (a.revision < b.revision ? -1 : 1))) {
    if (!isDraftName(one.revision) || !(one.savedAt < before) || heads.has(one.revision)) continue;
    // What is not here may still arrive from another machine, unless it is a draft that has gone.
    const isNeeded = one.parents.some(
      parent => (there.has(parent) || !isDraftName(parent)) && (namedBy.get(parent) ?? 0) < 2,
    );
    if (isNeeded) continue;
    name(one.parents, -1);
    there.delete(one.revision);
    gone.push(one.revision);
  }
  return gone;
};

/**
 * What a new revision names as made from: those given, and what the drafts among them were made from and
 * somebody kept, so that the drafts between can go one day.
 * @param revisions of the item as far as they are known
 * @example
 * const draft = { id: 'a', revision: 'r2-draft', parents: ['r1'], savedAt: '2026-01-06' };
 * parentsThrough(['r2-draft'], [draft]) // => ['r2-draft', 'r1']
 */
export const parentsThrough = (
  parents: readonly string[],
  revisions: readonly Stamp[],
): readonly string[] => {
  const through = revisions
    .filter(one => isDraftName(one.revision) && parents.includes(one.revision))
    .flatMap(one => one.parents.filter(before => !isDraftName(before)));
  return [...new Set([...parents, ...through])];
};
