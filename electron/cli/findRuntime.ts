import { execFile } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Where the Electron runtime is, or one sentence for the teacher why it is not there. */
export type Runtime = { readonly path: string } | { readonly missing: string };

/** The Electron executable when it is really on the disk. Looks only; downloads nothing. */
export const installedRuntime = (project: string): string | undefined => {
  const folder = join(project, 'node_modules', 'electron');
  try {
    const path = join(folder, 'dist', readFileSync(join(folder, 'path.txt'), 'utf8').trim());
    return existsSync(path) ? path : undefined;
  } catch {
    return undefined;
  }
};

/** In milliseconds. A school network that swallows downloads must not make the start hang. */
const DOWNLOAD_PATIENCE = 20_000;

const download = (script: string): Promise<boolean> =>
  new Promise(done => {
    execFile(process.execPath, [script], { timeout: DOWNLOAD_PATIENCE, killSignal: 'SIGKILL' }, error => {
      done(error === null);
    });
  });

/** The Electron runtime; asked for once, briefly, when it is absent and MALLETLOOM_NO_DOWNLOAD is not set. */
export const findRuntime = async (project: string, env = process.env): Promise<Runtime> => {
  const there = installedRuntime(project);
  if (there !== undefined) return { path: there };
  if (env['MALLETLOOM_NO_DOWNLOAD'] !== undefined) {
    return { missing: 'The Electron runtime is not installed and MALLETLOOM_NO_DOWNLOAD is set' };
  }
  const script = join(project, 'node_modules', 'electron', 'install.js');
  if (!existsSync(script)) return { missing: 'The electron package is not installed' };
  console.log('Fetching the Electron runtime (20 seconds at the most)…');
  await download(script);
  const got = installedRuntime(project);
  return got === undefined
    ? { missing: 'The Electron runtime is not installed and could not be fetched' }
    : { path: got };
};
