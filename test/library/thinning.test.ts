import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isDraftName } from '../../core/library/paths.ts';
import { newestRevisions } from '../../core/library/revisions.ts';
import type { Stamp } from '../../core/library/revision.ts';
import { parentsThrough, superfluousDrafts } from '../../core/library/thinning.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import type { LibraryTools } from '../../core/library/library.ts';
import { barePiece, countingTools } from './pieces.ts';

const LATER = '2026-12-01T00:00:00.000Z';
const day = (n: number): string => new Date(Date.UTC(2026, 0, 1 + n)).toISOString();

/** A line of revisions as desks make them: each from one that was there, a draft or a version. */
const history = fc
  .array(
    fc.record({
      draft: fc.boolean(),
      from: fc.nat(),
      also: fc.option(fc.nat()),
      day: fc.nat(40),
      name: fc.nat(99),
    }),
    {
      minLength: 1,
      maxLength: 30,
    },
  )
  .map(steps => {
    const all: Stamp[] = [];
    steps.forEach((step, i) => {
      // Names of another order than they were made in: a clock was put back, or another machine's is wrong.
      const revision = `r${String(step.name)}-${String(i)}${step.draft ? '-draft' : ''}`;
      const parents = all.length === 0 ? [] : [all[step.from % all.length]?.revision ?? ''];
      if (step.also !== null && all.length > 0) parents.push(all[step.also % all.length]?.revision ?? '');
      all.push({ id: 'a', revision, parents: parentsThrough(parents, all), savedAt: day(step.day) });
    });
    return all;
  });
const names = (all: readonly Stamp[]): string[] => all.map(one => one.revision);

describe('drafts that nothing needs any more', () => {
  it('law: without them the same revisions are the newest, and every version and every newer draft stays', () => {
    let went = 0;
    fc.assert(
      fc.property(history, fc.nat(40), (all, before) => {
        const gone = superfluousDrafts(all, day(before));
        went += gone.length;
        const left = all.filter(one => !gone.includes(one.revision));
        expect(names(newestRevisions(left))).toEqual(names(newestRevisions(all)));
        for (const one of all)
          if (!isDraftName(one.revision) || one.savedAt >= day(before))
            expect(names(left)).toContain(one.revision);
      }),
      { numRuns: 400, seed: 4 },
    );
    expect(went).toBeGreaterThan(250);
  });

  it('law: done day by day, with new work between, it never makes a rival', () => {
    fc.assert(
      fc.property(history, fc.array(fc.nat(40), { maxLength: 5 }), (all, days) => {
        let left: readonly Stamp[] = all;
        for (const until of days.sort((a, b) => a - b)) {
          const gone = superfluousDrafts(left, day(until));
          left = left.filter(one => !gone.includes(one.revision));
        }
        expect(names(newestRevisions(left))).toEqual(names(newestRevisions(all)));
      }),
      { numRuns: 300, seed: 5 },
    );
  });

  it('one line of drafts after a version comes down to the version and the last draft', () => {
    let all: Stamp[] = [{ id: 'a', revision: 'r00', parents: [], savedAt: day(0) }];
    for (let i = 1; i < 20; i++) {
      const last = all.at(-1)?.revision ?? '';
      const revision = `r${String(i).padStart(2, '0')}-draft`;
      all = [...all, { id: 'a', revision, parents: parentsThrough([last], all), savedAt: day(i) }];
    }
    expect(superfluousDrafts(all, LATER)).toEqual(names(all.slice(1, -1)));
    expect(superfluousDrafts(all, day(5))).toEqual(names(all.slice(1, 5)));
  });

  it('a draft of a version that has not come from the other machine yet stays: it names it', () => {
    const draft = { id: 'a', revision: 'r2-draft', parents: ['r1'], savedAt: day(0) };
    const next = { id: 'a', revision: 'r3-draft', parents: ['r2-draft'], savedAt: day(1) };
    expect(superfluousDrafts([draft, next], LATER)).toEqual([]);
    expect(superfluousDrafts([draft, { ...next, parents: ['r2-draft', 'r1'] }], LATER)).toEqual(['r2-draft']);
  });
});

/** Tools whose clock is set by hand. */
const atDay = (): { tools: LibraryTools; set: (n: number) => void } => {
  let now = 0;
  const { sha256, newId } = countingTools();
  return {
    tools: { sha256, newId, now: () => day(now) },
    set: n => {
      now = n;
    },
  };
};

describe('tidying the library', () => {
  it('a year of lessons leaves what was kept, one draft at the most, and that of the last day', async () => {
    const files = new Map<string, Uint8Array>();
    const { tools, set } = atDay();
    const library = openLibrary(memoryFolder(files), tools);
    let parent: readonly string[] = [];
    let kept = 0;
    for (let lesson = 0; lesson < 40; lesson++) {
      set(lesson * 7);
      for (let i = 0; i < 6; i++) {
        const draft = i < 5 || lesson % 4 > 0;
        if (!draft) kept += 1;
        const saved = await library.save(
          barePiece('a', `${String(lesson)} ${String(i)}`),
          parent,
          draft ? { draft: true } : {},
        );
        if (!saved.ok) throw new Error(saved.problem.what);
        parent = [saved.value.revision];
      }
      await library.shelf();
      await library.tidy();
    }
    const drafts = [...files.keys()].filter(path => path.endsWith('-draft.json'));
    expect(files.size - drafts.length).toBe(kept);
    // Those of the last lesson: they are not a day old.
    expect(drafts).toHaveLength(6);
    set(400);
    await library.tidy();
    expect([...files.keys()].filter(path => path.endsWith('-draft.json'))).toHaveLength(1);
    const shelf = await openLibrary(memoryFolder(files), countingTools(900)).shelf();
    if (!shelf.ok) throw new Error(shelf.problem.what);
    expect(shelf.value.entries.map(entry => [entry.facts.title, entry.rivals.length, entry.draft])).toEqual([
      ['39 5', 0, true],
    ]);
    expect(shelf.value.damaged).toEqual([]);
  });
});
