import { spawnSync } from 'node:child_process';
import * as fs from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MOST_BYTES } from '../../../core/library/limits.ts';
import { type Disk, nodeFolder } from '../../../electron/desktop/nodeFolder.ts';

let home = '';
let root = '';
beforeEach(async () => {
  home = await fs.mkdtemp(join(tmpdir(), 'malletloom-folder-'));
  root = join(home, 'library');
  await fs.mkdir(root);
  await fs.writeFile(join(home, 'secret.txt'), 'outside');
});
afterEach(async () => {
  await fs.rm(home, { recursive: true, force: true });
});

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const thrown = (code: string) => Object.assign(new Error(code), { code });
const everything = async (): Promise<string[]> =>
  (await fs.readdir(root, { recursive: true, withFileTypes: true })).filter(e => e.isFile()).map(e => e.name);

/** The real disk, whose files cannot be written beyond their first bytes. */
const failing = (code: string): Disk => ({
  ...fs,
  open: async (...args: Parameters<typeof fs.open>) => {
    const file = await fs.open(...args);
    return new Proxy(file, {
      get: (target, name) => {
        if (name === 'writeFile') {
          return async () => {
            await target.write('half');
            throw thrown(code);
          };
        }
        const found: unknown = Reflect.get(target, name, target);
        return typeof found === 'function' ? (found.bind(target) as unknown) : found;
      },
    });
  },
});

describe('a folder on the disk', () => {
  it('gives back what was written, makes folders, leaves no temporary file', async () => {
    const folder = nodeFolder(root);
    expect(await folder.writeNew('items/a/r1.json', bytes('one'))).toEqual({ ok: true, value: undefined });
    expect(await folder.read('items/a/r1.json')).toEqual({ ok: true, value: bytes('one') });
    expect(await folder.list('items')).toEqual({ ok: true, value: ['a'] });
    expect(await folder.list('nothing/here')).toEqual({ ok: true, value: [] });
    expect(await everything()).toEqual(['r1.json']);
  });

  it.each([
    ['with hard links', fs],
    ['without hard links', { ...fs, link: () => Promise.reject(thrown('ENOTSUP')) }],
  ])('never overwrites, on a disk %s', async (_, disk) => {
    const folder = nodeFolder(root, disk);
    expect((await folder.writeNew('a.json', bytes('old'))).ok).toBe(true);
    expect(await folder.writeNew('a.json', bytes('new'))).toMatchObject({ problem: { kind: 'bad-request' } });
    expect(await fs.readFile(join(root, 'a.json'), 'utf8')).toBe('old');
    expect(await everything()).toEqual(['a.json']);
  });

  it.each([
    ['ENOSPC', 'disk-full'],
    ['EDQUOT', 'disk-full'],
    ['EIO', 'folder-gone'],
  ])('leaves no half file on %s and says %s', async (code, kind) => {
    const result = await nodeFolder(root, failing(code)).writeNew('items/a/r1.json', bytes('whole'));
    expect(result).toMatchObject({ ok: false, problem: { kind } });
    expect(await everything()).toEqual([]);
  });

  it('tries again while a virus scanner holds the file, and gives up in words', async () => {
    let locked = 3;
    const busy: Disk = {
      ...fs,
      link: (from, to) => (locked-- > 0 ? Promise.reject(thrown('EBUSY')) : fs.link(from, to)),
    };
    expect((await nodeFolder(root, busy).writeNew('a.json', bytes('x'))).ok).toBe(true);
    locked = 100;
    expect(await nodeFolder(root, busy).writeNew('b.json', bytes('x'))).toMatchObject({
      problem: { kind: 'folder-refused' },
    });
    expect(await everything()).toEqual(['a.json']);
  });

  it.each([
    '../secret.txt',
    'a/../../secret.txt',
    '/etc/passwd',
    'a\\..\\secret.txt',
    'c:/x',
    'a/\0',
    '',
    './a',
    'a//b',
  ])('stays inside for "%s"', async path => {
    const folder = nodeFolder(root);
    const refused = { ok: false, problem: { kind: 'bad-request' } };
    expect(await folder.read(path)).toMatchObject(refused);
    expect(await folder.writeNew(path, bytes('x'))).toMatchObject(refused);
    expect(await fs.readFile(join(home, 'secret.txt'), 'utf8')).toBe('outside');
  });

  it('follows no link that leads outside', async () => {
    await fs.symlink(home, join(root, 'way-out'));
    await fs.symlink(join(home, 'secret.txt'), join(root, 'leak.txt'));
    const folder = nodeFolder(root);
    const refused = { ok: false, problem: { kind: 'bad-request' } };
    expect(await folder.read('way-out/secret.txt')).toMatchObject(refused);
    expect(await folder.read('leak.txt')).toMatchObject(refused);
    expect(await folder.list('way-out')).toMatchObject(refused);
    expect(await folder.writeNew('way-out/new.txt', bytes('x'))).toMatchObject(refused);
    expect(await folder.writeNew('way-out/deep/new.txt', bytes('x'))).toMatchObject(refused);
    expect((await fs.readdir(home)).sort()).toEqual(['library', 'secret.txt']);
  });

  it('waits for no pipe, and reads no folder and no file larger than any piece', async () => {
    expect(spawnSync('mkfifo', [join(root, 'pipe.json')]).status).toBe(0);
    await fs.mkdir(join(root, 'folder.json'));
    await fs.writeFile(join(root, 'large.json'), '');
    // Sparse: it says that it is large, and takes no room on the disk.
    await fs.truncate(join(root, 'large.json'), 600 * 1024 * 1024);
    const folder = nodeFolder(root);
    expect(await folder.read('pipe.json')).toMatchObject({ problem: { kind: 'damaged-file' } });
    expect(await folder.read('folder.json')).toMatchObject({ problem: { kind: 'damaged-file' } });
    expect(await folder.read('large.json')).toMatchObject({ problem: { kind: 'too-large' } });
    await fs.truncate(join(root, 'large.json'), MOST_BYTES);
    expect((await folder.read('large.json')).ok).toBe(true);
  });

  it('drops a draft and nothing else; one that is gone already is no problem', async () => {
    const folder = nodeFolder(root);
    for (const name of ['r1', 'r2-draft']) await folder.writeNew(`items/a/${name}.json`, bytes(name));
    expect((await folder.dropDraft('items/a/r2-draft.json')).ok).toBe(true);
    expect((await folder.dropDraft('items/a/r2-draft.json')).ok).toBe(true);
    expect((await folder.dropDraft('items/never/r3-draft.json')).ok).toBe(true);
    for (const path of ['items/a/r1.json', '../x-draft.json', 'items/a/../a/r1.json'])
      expect(await folder.dropDraft(path)).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });
    expect(await everything()).toEqual(['r1.json']);
  });

  it('tidies away what cut-off saves left behind a day ago, and nothing else', async () => {
    const folder = nodeFolder(root);
    await folder.writeNew('items/a/r1.json', bytes('whole'));
    const put = async (name: string, text: string, days: number): Promise<void> => {
      const then = new Date(Date.now() - days * 86_400_000);
      await fs.writeFile(join(root, 'items/a', name), text);
      await fs.utimes(join(root, 'items/a', name), then, then);
    };
    await put('.r2.json.4711.part', 'hal', 2);
    await put('.r3.json.part', '', 2);
    await put('r4.json', '', 2);
    const kept: readonly [string, string, number][] = [
      ['.r5.json.4711.part', 'hal', 0.5],
      ['r6.json', '', 0.5],
      ['r7.json', 'x', 900],
      ['notes.txt', '', 900],
      ['.part', '', 900],
    ];
    for (const [name, text, days] of kept) await put(name, text, days);
    await fs.mkdir(join(home, 'elsewhere'));
    await fs.writeFile(join(home, 'elsewhere', '.r.json.part'), '');
    await fs.utimes(join(home, 'elsewhere', '.r.json.part'), 0, 0);
    await fs.symlink(join(home, 'elsewhere'), join(root, 'items/way-out'));
    expect(await folder.tidy()).toEqual({ ok: true, value: 3 });
    expect((await fs.readdir(join(root, 'items/a'))).sort()).toEqual(
      ['r1.json', ...kept.map(([name]) => name)].sort(),
    );
    expect(await fs.readdir(join(home, 'elsewhere'))).toEqual(['.r.json.part']);
  });

  it('flushes the folder after the file, and keeps a save on a system whose folders cannot be opened', async () => {
    const flushed: string[] = [];
    const watched = (refuse: boolean): Disk => ({
      ...fs,
      open: async (path, ...rest) => {
        if (rest[0] === 'r' && refuse) throw thrown('EISDIR');
        const file = await fs.open(path, ...rest);
        const sync = file.sync.bind(file);
        file.sync = () => {
          flushed.push(String(path).slice(root.length));
          return sync();
        };
        return file;
      },
    });
    expect((await nodeFolder(root, watched(false)).writeNew('items/a/r1.json', bytes('x'))).ok).toBe(true);
    expect(flushed.map(path => path.replace(/\.\d+\./, '.'))).toEqual(['/items/a/.r1.json.part', '/items/a']);
    expect((await nodeFolder(root, watched(true)).writeNew('items/a/r2.json', bytes('x'))).ok).toBe(true);
  });

  it('says that the folder is gone rather than that it is empty', async () => {
    const folder = nodeFolder(join(home, 'unplugged'));
    expect((await folder.list('items')).ok).toBe(false);
    expect((await folder.writeNew('items/a.json', bytes('x'))).ok).toBe(false);
  });
});
