import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, Platform } from 'electron-builder';
import { expect, test } from 'playwright/test';
import { buildElectron } from '../../electron/cli/build.ts';
import { checkPackaging } from '../../electron/package/checkPackaging.ts';
import { packaging } from '../../electron/package/packaging.ts';
import { layOutStandIn } from '../../electron/package/standInRuntime.ts';
import { filesIn } from '../tools/asarFiles.ts';

const project = fileURLToPath(new URL('../..', import.meta.url));

test('what is packaged is the two bundles and the built page, around a program whose fuses are set', async () => {
  test.setTimeout(120_000);
  await buildElectron(project);
  const folder = mkdtempSync(join(tmpdir(), 'malletloom-package-'));
  try {
    layOutStandIn(folder);
    await build({
      projectDir: project,
      targets: Platform.LINUX.createTarget('dir'),
      config: {
        ...packaging,
        directories: { ...packaging.directories, output: join(folder, 'out') },
        electronDist: folder,
      },
    });
    const made = join(folder, 'out', 'linux-unpacked');
    for (const notice of ['LICENSE', 'THIRD-PARTY-NOTICES.md'])
      expect(readFileSync(join(made, notice), 'utf8')).toBe(readFileSync(join(project, notice), 'utf8'));

    const files = filesIn(readFileSync(join(made, 'resources', 'app.asar')));
    const names = [...files.keys()];
    expect(names).toEqual(
      expect.arrayContaining([
        'package.json',
        'dist/electron/main.mjs',
        'dist/electron/preload.cjs',
        'dist/renderer/index.html',
        'dist/renderer/notices.txt',
        'dist/renderer/demo/tin-roof.mid',
      ]),
    );
    // No source, no map, no package of npm, nothing of the tests or of an earlier packaging.
    expect(
      names.filter(
        name => !/^(package\.json|dist\/electron\/(main\.mjs|preload\.cjs)|dist\/renderer\/)/.test(name),
      ),
    ).toEqual([]);
    expect(names.filter(name => /\.map$|\.tsx?$|node_modules/.test(name))).toEqual([]);
    // Everything the page names is there, and the main process needs nothing but Electron and Node.
    const text = (name: string): string => new TextDecoder().decode(files.get(name));
    const named = [...text('dist/renderer/index.html').matchAll(/(?:src|href)="\.\/([^"]+)"/g)].map(
      ([, name]) => name,
    );
    expect(named.length).toBeGreaterThan(2);
    for (const name of named) expect(names).toContain(`dist/renderer/${name ?? ''}`);
    const imports = [...text('dist/electron/main.mjs').matchAll(/^import .* from "([^"]+)";$/gm)].map(
      ([, from]) => from ?? '',
    );
    expect(imports).toContain('electron');
    expect(imports.filter(from => from !== 'electron' && !from.startsWith('node:'))).toEqual([]);
    expect((JSON.parse(text('package.json')) as { main: string }).main).toBe('dist/electron/main.mjs');

    // Electron's documentation, 'Electron Fuses' (order of the fuse schema, version 1; from memory): run as Node, encrypted cookies, NODE_OPTIONS,
    // inspect, integrity of the archive, only from the archive, snapshot of its own, privileges of file addresses.
    const program = readFileSync(join(made, 'malletloom')).toString('latin1');
    const wire = /dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX\x01\x08(.{8})/s.exec(program)?.[1];
    expect(wire).toBe('01001100');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('the configuration is checked for every platform, and what is wrong with it is named', async () => {
  expect(await checkPackaging(packaging)).toBeUndefined();
  expect(await checkPackaging({ ...packaging, nsis: { oneClik: true } } as never)).toContain(
    'configuration.nsis',
  );
  expect(await checkPackaging({ ...packaging, win: { ...packaging.win, icon: 'gone.ico' } })).toContain(
    'gone.ico',
  );
});

test('icons hold every size, and each is the picture beside it', () => {
  const icons = join(project, 'electron', 'package', 'icons');
  const ico = readFileSync(join(icons, 'icon.ico'));
  const count = ico.readUInt16LE(4);
  const inIco = Array.from({ length: count }, (_, i) => {
    const at = 6 + 16 * i;
    const start = ico.readUInt32LE(at + 12);
    return { size: ico.readUInt8(at) || 256, png: ico.subarray(start, start + ico.readUInt32LE(at + 8)) };
  });
  expect(inIco.map(one => one.size)).toEqual([16, 24, 32, 48, 64, 128, 256]);
  const icns = readFileSync(join(icons, 'icon.icns'));
  expect([icns.toString('latin1', 0, 4), icns.readUInt32BE(4)]).toEqual(['icns', icns.length]);
  const inIcns: Buffer[] = [];
  for (let at = 8; at < icns.length; at += icns.readUInt32BE(at + 4))
    inIcns.push(icns.subarray(at + 8, at + icns.readUInt32BE(at + 4)));
  // Width and height of a PNG stand in its first chunk (W3C PNG, 11.2.2).
  const sideOf = (png: Buffer): number => png.readUInt32BE(16);
  expect(inIcns.map(sideOf)).toEqual([32, 64, 128, 256, 256, 512, 512, 1024]);
  for (const png of [...inIcns, ...inIco.map(one => one.png)]) {
    const side = sideOf(png);
    const beside = join(icons, `${String(side)}x${String(side)}.png`);
    expect(existsSync(beside) && readFileSync(beside).equals(png)).toBe(true);
  }
});
