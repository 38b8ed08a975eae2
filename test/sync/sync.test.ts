import { describe, expect, it } from 'vitest';
import type { Result } from '../../core/foundation/result.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { nodeFolder } from '../../electron/desktop/nodeFolder.ts';
import { barePiece, countingTools } from '../library/pieces.ts';
import { filesIn, hasSyncEngine, twoMachines, until } from './syncEngine.ts';

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
};

const hasEngine = hasSyncEngine();
if (!hasEngine)
  console.warn(
    'SKIPPED: syncthing is not installed (apt-get install syncthing), so syncing with a real engine was not tried.',
  );

describe.skipIf(!hasEngine)('a class library that a sync engine carries between two machines', () => {
  it(
    'two save the same piece offline: both arrive, the register shows both, and one settles it',
    { timeout: 120_000 },
    async () => {
      const { machines, end } = await twoMachines();
      try {
        const [one, two] = machines;
        const here = openLibrary(nodeFolder(one.root), countingTools(0, 'a'));
        const there = openLibrary(nodeFolder(two.root), countingTools(0, 'b'));
        const same = (): Promise<boolean> =>
          Promise.all([filesIn(one.root), filesIn(two.root)]).then(
            ([a, b]) => a.length > 0 && a.join() === b.join(),
          );
        const first = value(await here.save(barePiece('a', 'Bell'), []));
        await Promise.all([one.online(), two.online()]);
        await until('the first version has arrived', 40, same);
        expect(value(await there.shelf()).entries.map(entry => entry.facts.title)).toEqual(['Bell']);

        await one.offline();
        await two.offline();
        const mine = value(await here.save(barePiece('a', 'Bell in the morning'), [first.revision]));
        const yours = value(await there.save(barePiece('a', 'Bell at night'), [first.revision]));
        await Promise.all([one.online(), two.online()]);
        await until(
          'both versions are on both machines',
          40,
          async () => (await filesIn(one.root)).length === 3 && (await same()),
        );
        for (const library of [here, there]) {
          const shelf = value(await library.shelf());
          expect(shelf.damaged).toEqual([]);
          const [entry] = shelf.entries;
          expect([entry?.revision, ...(entry?.rivals ?? [])].sort()).toEqual([mine.revision, yours.revision]);
        }

        const piece = value(await there.open('a', mine.revision));
        await there.save(piece, [yours.revision, mine.revision]);
        await until('what settles it has arrived', 40, same);
        for (const library of [here, there]) {
          const [entry] = value(await library.shelf()).entries;
          expect([entry?.facts.title, entry?.rivals, entry?.revisions]).toEqual([
            'Bell in the morning',
            [],
            4,
          ]);
        }
      } finally {
        await end();
      }
    },
  );
});
