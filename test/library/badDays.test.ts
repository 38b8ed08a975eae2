import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../core/foundation/result.ts';
import type { LibraryTools } from '../../core/library/library.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { fileName } from '../../renderer/desk/acts/handOn.ts';
import { barePiece, countingTools, sha256 } from './pieces.ts';

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
};

describe('a file that was cut off', () => {
  it('at every byte: it is told, the version before shows, and nothing else is hidden', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    await library.save(barePiece('good', 'Good'), []);
    const first = value(await library.save(barePiece('cut', 'Before'), []));
    const second = value(await library.save(barePiece('cut', 'After'), [first.revision]));
    const path = `items/cut/${second.revision}.json`;
    const whole = files.get(path) ?? new Uint8Array();
    expect(whole.length).toBeGreaterThan(500);
    for (let length = 0; length < whole.length - 1; length++) {
      files.set(path, whole.slice(0, length));
      const shelf = value(await openLibrary(memoryFolder(files), countingTools(50)).shelf());
      expect(shelf.entries.map(entry => entry.facts.title)).toEqual(['Before', 'Good']);
      expect(shelf.damaged.map(problem => problem.kind)).toEqual(['damaged-file']);
    }
    // The last byte is the end of the line: without it the file is whole.
    files.set(path, whole.slice(0, -1));
    const shelf = value(await openLibrary(memoryFolder(files), countingTools(50)).shelf());
    expect(shelf.entries.map(entry => entry.facts.title)).toEqual(['After', 'Good']);
  });
});

describe('a clock that was put back', () => {
  it('law: what was made from something is newer than it, whatever the clocks and names say', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.nat(99_999), { minLength: 2, maxLength: 12 }),
        fc.array(fc.boolean(), { minLength: 12, maxLength: 12 }),
        async (times, drafts) => {
          let at = 0;
          const tools: LibraryTools = {
            sha256,
            now: () => new Date(Date.UTC(2026, 0, 1, 0, times[at] ?? 0)).toISOString(),
            newId: () => `t${String(times[at] ?? 0).padStart(6, '0')}`,
          };
          const files = new Map<string, Uint8Array>();
          const library = openLibrary(memoryFolder(files), tools);
          let parents: readonly string[] = [];
          for (at = 0; at < times.length; at++) {
            const marks = drafts[at] === true ? { draft: true as const } : {};
            const saved = value(await library.save(barePiece('a', `number ${String(at)}`), parents, marks));
            expect([saved.facts.title, saved.rivals]).toEqual([`number ${String(at)}`, []]);
            parents = [saved.revision];
            await library.shelf();
            await library.tidy();
          }
          const shelf = value(await openLibrary(memoryFolder(files), countingTools()).shelf());
          expect(shelf.entries.map(entry => [entry.facts.title, entry.rivals])).toEqual([
            [`number ${String(times.length - 1)}`, []],
          ]);
          const kept = times.filter((_, i) => drafts[i] !== true).length;
          expect([...files.keys()].filter(path => !path.endsWith('-draft.json'))).toHaveLength(kept);
        },
      ),
      { numRuns: 60, seed: 12 },
    );
  });
});

describe('names of all kinds', () => {
  const hostile = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 60 }),
    fc.constantFrom(
      '../../etc/passwd',
      'CON',
      'a\u0000b',
      '\u202Egnp.exe',
      '<img src=x onerror=alert(1)>',
      '.',
      '👩‍🎤🪘',
      ' ',
    ),
  );

  it('law: a piece called anything is kept and opened again as it was, or refused in a sentence; and its files have plain names', async () => {
    let kept = 0;
    await fc.assert(
      fc.asyncProperty(hostile, hostile, hostile, async (title, codeName, className) => {
        const files = new Map<string, Uint8Array>();
        const library = openLibrary(memoryFolder(files), countingTools());
        const piece = { ...barePiece('a'), title, codeName, className };
        const saved = await library.save(piece, []);
        if (!saved.ok) {
          expect(saved.problem.what).toMatch(/[a-z ]+\.$/);
          expect(files.size).toBe(0);
          return;
        }
        kept++;
        const fresh = openLibrary(memoryFolder(files), countingTools(50));
        const [entry] = value(await fresh.shelf()).entries;
        expect([entry?.facts.title, entry?.facts.codeName, entry?.facts.className]).toEqual([
          title,
          codeName,
          className,
        ]);
        expect(value(await fresh.open('a', saved.value.revision))).toEqual(piece);
        expect([...files.keys()][0]).toMatch(/^items\/a\/[a-z0-9-]+\.json$/);
        expect(fileName(piece, 'pdf')).toMatch(/^[\p{L}\p{N} _-]+\.pdf$/u);
      }),
      { numRuns: 300, seed: 3 },
    );
    expect(kept).toBeGreaterThan(200);
  });
});
