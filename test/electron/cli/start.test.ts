import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { findBrowser, hasDisplay } from '../../../electron/cli/findBrowser.ts';
import { createServer } from 'node:http';
import { serveOnce } from '../../../electron/cli/serveOnce.ts';
import { serve } from '../../../electron/loopback/server.ts';
import { findRuntime, installedRuntime } from '../../../electron/cli/findRuntime.ts';

const made: string[] = [];
const project = (): string => {
  const path = mkdtempSync(join(tmpdir(), 'malletloom-start-'));
  made.push(path);
  mkdirSync(join(path, 'node_modules', 'electron', 'dist'), { recursive: true });
  return path;
};
afterEach(() => {
  for (const path of made.splice(0)) rmSync(path, { recursive: true, force: true });
});

it('finds the Electron runtime only when the executable is there too', () => {
  const path = project();
  const folder = join(path, 'node_modules', 'electron');
  expect(installedRuntime(path)).toBeUndefined();
  writeFileSync(join(folder, 'path.txt'), 'electron');
  expect(installedRuntime(path)).toBeUndefined();
  writeFileSync(join(folder, 'dist', 'electron'), '');
  expect(installedRuntime(path)).toBe(join(folder, 'dist', 'electron'));
});

it('fetches nothing when told not to, and says so', async () => {
  const path = project();
  writeFileSync(join(path, 'node_modules', 'electron', 'install.js'), 'throw new Error("was run")');
  expect(await findRuntime(path, { MALLETLOOM_NO_DOWNLOAD: '1' })).toEqual({
    missing: 'The Electron runtime is not installed and MALLETLOOM_NO_DOWNLOAD is set',
  });
});

it('says so when the runtime could not be fetched', async () => {
  const path = project();
  writeFileSync(join(path, 'node_modules', 'electron', 'install.js'), 'process.exit(1)');
  expect(await findRuntime(path, {})).toEqual({
    missing: 'The Electron runtime is not installed and could not be fetched',
  });
});

it('finds a browser where each system keeps it', () => {
  const on = (platform: string, env: Record<string, string>, there: string) =>
    findBrowser({ platform, env, exists: path => path.replaceAll('\\', '/') === there });
  expect(on('linux', { PATH: '/opt/bin:/usr/bin' }, '/usr/bin/chromium')).toBe('/usr/bin/chromium');
  const mac = '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge';
  expect(on('darwin', {}, mac)).toBe(mac);
  const windows = 'C:/Programs/Microsoft/Edge/Application/msedge.exe';
  expect(on('win32', { ProgramFiles: 'C:/Programs' }, windows)).toBe(windows);
  expect(on('linux', { PATH: '/usr/bin' }, '/usr/bin/other')).toBeUndefined();
});

it('opens the one that runs already instead of beginning another library at another port', async () => {
  const root = project();
  writeFileSync(join(root, 'index.html'), '');
  const running = await serve({ root, port: 0 });
  const { port } = new URL(running.url);
  const opened: string[] = [];
  const said: string[] = [];
  const second = await serveOnce({
    root,
    port: Number(port),
    open: url => opened.push(url),
    say: line => said.push(line),
  });
  expect(second).toBeUndefined();
  expect(opened).toEqual([running.url]);
  expect(said.join()).toContain('running already');
  await running.close();

  // Another program has the port: another one is taken, and it is said what that means.
  const other = createServer((_, response) => response.end());
  await new Promise<void>(done => other.listen(Number(port), '127.0.0.1', done));
  const third = await serveOnce({
    root,
    port: Number(port),
    open: url => opened.push(url),
    say: line => said.push(line),
  });
  expect(third?.url).not.toBe(running.url);
  expect(opened).toEqual([running.url, third?.url]);
  expect(said.join()).toContain('belongs to another program');
  await third?.close();
  await new Promise(done => other.close(done));
});

it('knows when there is no screen', () => {
  const exists = () => false;
  expect(hasDisplay({ platform: 'linux', env: {}, exists })).toBe(false);
  expect(hasDisplay({ platform: 'linux', env: { DISPLAY: ':0' }, exists })).toBe(true);
  expect(hasDisplay({ platform: 'linux', env: { WAYLAND_DISPLAY: 'wayland-0' }, exists })).toBe(true);
  expect(hasDisplay({ platform: 'win32', env: {}, exists })).toBe(true);
});
