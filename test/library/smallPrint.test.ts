import { describe, expect, it } from 'vitest';
import { enteredNames, enteredWords } from '../../core/library/classList.ts';
import * as problems from '../../core/library/folderProblems.ts';
import { MOST_BYTES } from '../../core/library/limits.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { classOf, inClassOrder } from '../../core/library/revisions.ts';
import type { SavedClass } from '../../core/library/revision.ts';
import { decodeSaved } from '../../core/library/saved.ts';
import { barePiece, countingTools } from './pieces.ts';

// Edges of the class library that small breaks of the code had slipped through.

describe('the small print of a class library', () => {
  it('names entered twice are listed, with commas between', () => {
    expect(enteredWords(enteredNames('Otter\nHeron\notter\nHERON'))).toBe(
      '2 code names. Twice, so entered once: otter, HERON.',
    );
  });

  it('a letter of two units at the edge of what fits is left out whole', () => {
    const [name] = enteredNames(`${'a'.repeat(39)}\u{1F426}`).names;
    expect(name).toBe('a'.repeat(39));
  });

  it.each([
    [problems.alreadyThere('items/a.json'), 'bad-request', /items\/a\.json/],
    [problems.noDraft('items/a/r1.json'), 'bad-request', /no draft/],
    [problems.diskFull('ENOSPC'), 'disk-full', /no room left/],
    [problems.unreachable('EIO'), 'folder-gone', /cannot be reached/],
    [problems.tooLargeFile('items/a/r1.json'), 'too-large', /items\/a\/r1\.json/],
  ] as const)('every refusal says what happened, what was kept and what to do: %#', (failure, kind, what) => {
    expect(failure.ok).toBe(false);
    expect(failure.problem.kind).toBe(kind);
    expect(failure.problem.what).toMatch(what);
    for (const sentence of [failure.problem.kept, failure.problem.next])
      expect(sentence).toMatch(/^[A-Z].*\.$/);
  });

  it('a file of exactly the greatest size is read, one byte more is not', async () => {
    const files = new Map([
      ['items/a/r1.json', new Uint8Array(MOST_BYTES)],
      ['items/a/r2.json', new Uint8Array(MOST_BYTES + 1)],
    ]);
    const folder = memoryFolder(files);
    expect((await folder.read('items/a/r1.json')).ok).toBe(true);
    expect(await folder.read('items/a/r2.json')).toMatchObject({ problem: { kind: 'too-large' } });
  });

  it('what a system hides among the items is no item, and no damage', async () => {
    const files = new Map<string, Uint8Array>([
      ['items/.trash/r1.json', new Uint8Array([1, 2, 3])],
      ['items/lost./r1.json', new Uint8Array([1, 2, 3])],
    ]);
    const shelf = await openLibrary(memoryFolder(files), countingTools()).shelf();
    if (!shelf.ok) throw new Error(shelf.problem.what);
    // Only what may be ours is said to be damaged.
    expect(shelf.value.damaged.map(problem => problem.what).join(' ')).toContain('lost.');
    expect(shelf.value.damaged).toHaveLength(1);
  });

  it('a file whose piece was changed by hand is said to have another sum', async () => {
    const files = new Map<string, Uint8Array>();
    const tools = countingTools();
    await openLibrary(memoryFolder(files), tools).save(barePiece('a', 'One'), []);
    const [bytes] = files.values();
    const spoilt = new TextDecoder().decode(bytes).replace('"One"', '"Two"');
    const read = await decodeSaved(new TextEncoder().encode(spoilt), 'a', tools.sha256);
    expect(read.ok ? '' : read.problem.detail).toBe('the sum does not match');
  });

  it('a class is away only if it was put away; classes of one name stand in the order of their ids', () => {
    const saved = (id: string, away?: true): SavedClass => ({
      id,
      revision: 'r1',
      parents: [],
      savedAt: '2026-01-05T09:00:00.000Z',
      list: { id, name: '8 Kestrel', pupils: [], groups: [] },
      ...(away === undefined ? {} : { away }),
    });
    const [one, two] = ['class-2', 'class-1'].map(id => classOf([saved(id)]));
    if (one === undefined || two === undefined) throw new Error('no class');
    expect([one.away, classOf([saved('class-1', true)])?.away]).toEqual([false, true]);
    expect(inClassOrder([one, two]).map(entry => entry.list.id)).toEqual(['class-1', 'class-2']);
    expect(inClassOrder([two, one]).map(entry => entry.list.id)).toEqual(['class-1', 'class-2']);
  });
});
