import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { detailOf } from '../../core/foundation/result.ts';
import { buildElectron, buildRenderer } from './build.ts';
import { findBrowser, hasDisplay } from './findBrowser.ts';
import { findRuntime } from './findRuntime.ts';
import { aboutNode } from './nodeVersion.ts';
import { serveOnce } from './serveOnce.ts';

// npm start: the desktop edition where the Electron runtime is, otherwise the browser edition.

const project = fileURLToPath(new URL('../..', import.meta.url));

const openElectron = (runtime: string): void => {
  const child = spawn(runtime, [project], { stdio: 'inherit' });
  child.on('error', error => {
    console.error(`Electron could not be started (${error.message}).`);
    void serveHere('Serving the app to a browser instead.');
  });
  child.on('exit', code => {
    process.exitCode = code ?? 1;
  });
};

const openBrowser = (browser: string, url: string): void => {
  // A profile of its own makes --app open a window even when the browser already runs; it is kept
  // between starts, because the class library of the browser edition lives in it.
  const home = process.env['XDG_DATA_HOME'] ?? process.env['LOCALAPPDATA'] ?? process.env['HOME'];
  const profile =
    home === undefined ? mkdtempSync(join(tmpdir(), 'malletloom-')) : join(home, '.malletloom-browser');
  const child = spawn(browser, [`--app=${url}`, `--user-data-dir=${profile}`, '--no-first-run'], {
    stdio: 'ignore',
  });
  child.on('error', error => {
    console.log(`The browser could not be opened (${error.message}); open the address yourself.`);
  });
  if (home === undefined)
    process.on('exit', () => {
      rmSync(profile, { recursive: true, force: true });
    });
};

/** The origin decides where a browser keeps the class library, so the port is the same every time. */
const USUAL_PORT = 47820;

const wantedPort = (): number => {
  const asked = process.env['MALLETLOOM_PORT'];
  if (asked === undefined) return USUAL_PORT;
  const port = Number(asked);
  if (Number.isInteger(port) && port >= 0 && port <= 65535) return port;
  console.error(`MALLETLOOM_PORT is "${asked}", which is no port; using ${String(USUAL_PORT)}.`);
  return USUAL_PORT;
};

const serveHere = async (why: string): Promise<void> => {
  console.log(why);
  const root = join(project, 'dist', 'renderer');
  const port = wantedPort();
  const serving = await serveOnce({
    root,
    port,
    open: url => {
      const browser = hasDisplay() ? findBrowser() : undefined;
      if (browser !== undefined) openBrowser(browser, url);
    },
    say: line => {
      console.log(line);
    },
  });
  if (serving === undefined) return;
  for (const end of ['SIGINT', 'SIGTERM'] as const) {
    process.once(end, () => void serving.close().then(() => process.exit(0)));
  }
};

const main = async (): Promise<void> => {
  await buildRenderer(project);
  if (process.argv.includes('--serve')) {
    await serveHere('Serving the app to a browser, as asked.');
    return;
  }
  const node = aboutNode(process.version);
  if (node !== undefined) console.log(node);
  const runtime = await findRuntime(project);
  if ('missing' in runtime) {
    await serveHere(`${runtime.missing}, so the same app is served to a browser.`);
    return;
  }
  await buildElectron(project);
  openElectron(runtime.path);
};

await main().catch((thrown: unknown) => {
  console.error(`Malletloom could not start: ${detailOf(thrown)}`);
  process.exitCode = 1;
});
