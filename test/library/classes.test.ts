import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { key } from '../../core/foundation/key.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { CLASS_VERSION, decodeClass, encodeClass } from '../../core/library/savedClass.ts';
import type { SavedClass } from '../../core/library/revision.ts';
import { barePiece, countingTools, sha256 } from './pieces.ts';

const LIST = {
  id: 'class-1',
  name: '8 Kestrel',
  pupils: ['Heron', 'Ötter 木'],
  groups: [{ name: 'Heron and Ötter 木', pupils: ['Heron', 'Ötter 木'] }],
};
const SAVED: SavedClass = {
  id: 'class-1',
  revision: 'r1',
  parents: ['r0'],
  savedAt: '2026-01-05T09:00:00.000Z',
  list: LIST,
};

describe('a class list as a file', () => {
  it('comes back as it was', async () => {
    const inKey = { ...SAVED, list: { ...LIST, key: key('B', 'minor pentatonic', -1) } };
    for (const saved of [SAVED, inKey, { ...SAVED, away: true as const }]) {
      const bytes = await encodeClass(saved, sha256);
      if (!bytes.ok) throw new Error(bytes.problem.what);
      expect(await decodeClass(bytes.value, 'x', sha256)).toEqual({ ok: true, value: saved });
    }
  });

  it('of every version there was opens forever', async () => {
    for (let version = 1; version <= CLASS_VERSION; version++) {
      const bytes = readFileSync(new URL(`../migrations/class-v${String(version)}.json`, import.meta.url));
      const read = await decodeClass(new Uint8Array(bytes), 'old', sha256);
      expect(read.ok && read.value.list).toEqual(LIST);
    }
  });

  it('of a later version is left alone; cut or spoilt anywhere it is set aside', async () => {
    const bytes = await encodeClass(SAVED, sha256);
    if (!bytes.ok) throw new Error('not encoded');
    const text = new TextDecoder().decode(bytes.value);
    const read = (changed: string) => decodeClass(new TextEncoder().encode(changed), 'x', sha256);
    expect(await read(text.replace('"version":2', '"version":3'))).toMatchObject({
      problem: { kind: 'newer-file' },
    });
    await fc.assert(
      fc.asyncProperty(fc.nat(text.length - 3), async cut => {
        expect(await read(text.slice(0, cut))).toMatchObject({ problem: { kind: 'damaged-file' } });
      }),
    );
    expect(await read(text.replace('Heron', 'Xeron'))).toMatchObject({ problem: { kind: 'damaged-file' } });
    expect(await read('['.repeat(100_000))).toMatchObject({ problem: { kind: 'damaged-file' } });
    expect(await encodeClass({ ...SAVED, list: { ...LIST, pupils: [''] } }, sha256)).toMatchObject({
      problem: { kind: 'bad-request' },
    });
  });
});

describe('class lists and drafts in the library', () => {
  it('lie beside the pieces, and neither is taken for the other', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    await library.save(barePiece('p'), []);
    await library.saveClass(LIST, []);
    const shelf = await openLibrary(memoryFolder(files), countingTools(50)).shelf();
    if (!shelf.ok) throw new Error(shelf.problem.what);
    expect([shelf.value.entries.map(e => e.id), shelf.value.classes.map(c => c.list)]).toEqual([
      ['p'],
      [LIST],
    ]);
    expect([...files.keys()].map(path => path.split('/')[1]).sort()).toEqual(['class-1', 'p']);
    expect(await library.save(barePiece('class-2'), [])).toMatchObject({ ok: false });
    expect(await library.saveClass({ ...LIST, id: 'p' }, [])).toMatchObject({ ok: false });
  });

  it('two machines that changed one class: everybody of both is there, and the next change settles it', async () => {
    const files = new Map<string, Uint8Array>();
    const one = openLibrary(memoryFolder(files), countingTools(0, 'a'));
    const two = openLibrary(memoryFolder(files), countingTools(0, 'b'));
    const first = await one.saveClass({ ...LIST, groups: [] }, []);
    if (!first.ok) throw new Error('not saved');
    await one.saveClass({ ...LIST, groups: [], pupils: ['Heron', 'Lynx'] }, first.value.heads);
    const rival = await two.saveClass({ ...LIST, groups: [], pupils: ['Heron', 'Vole'] }, first.value.heads);
    if (!rival.ok) throw new Error('not saved');
    expect(rival.value.heads).toHaveLength(2);
    expect([...rival.value.list.pupils].sort()).toEqual(['Heron', 'Lynx', 'Vole']);
    const settled = await two.saveClass(rival.value.list, rival.value.heads);
    expect(settled.ok && settled.value.heads.length).toBe(1);
  });

  it('a draft is a revision that says so; a version made from it is what was kept', async () => {
    const library = openLibrary(memoryFolder(), countingTools());
    const draft = await library.save(barePiece('p'), [], { draft: true });
    if (!draft.ok) throw new Error('not saved');
    expect(draft.value).toMatchObject({ draft: true, keptAt: undefined, away: false });
    const kept = await library.save(barePiece('p', 'Two'), [draft.value.revision]);
    if (!kept.ok) throw new Error('not saved');
    expect(kept.value).toMatchObject({ draft: false, keptAt: kept.value.savedAt });
    const later = await library.save(barePiece('p', 'Three'), [kept.value.revision], { draft: true });
    expect(later.ok && later.value).toMatchObject({ draft: true, keptAt: kept.value.savedAt, revisions: 3 });
    const shelf = await library.shelf();
    expect(shelf.ok && shelf.value.entries).toMatchObject([{ draft: true, keptAt: kept.value.savedAt }]);
    const versions = await library.versions('p');
    expect(versions.ok && versions.value.map(v => [v.piece.title, v.draft])).toEqual([
      ['Three', true],
      ['Two', undefined],
      ['Bare', true],
    ]);
  });

  it('what is put away stays, and comes back', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    const kept = await library.save(barePiece('p'), []);
    if (!kept.ok) throw new Error('not saved');
    const away = await library.save(barePiece('p'), [kept.value.revision], { away: true });
    if (!away.ok) throw new Error('not saved');
    const shelf = await openLibrary(memoryFolder(files), countingTools(50)).shelf();
    expect(shelf.ok && shelf.value.entries).toMatchObject([{ away: true, revisions: 2 }]);
    const back = await library.save(barePiece('p'), [away.value.revision]);
    expect([back.ok && back.value.away, files.size]).toEqual([false, 3]);
  });
});
