import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, readdir, rm, utimes } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { build } from 'esbuild';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { nodeFolder } from '../../electron/desktop/nodeFolder.ts';
import { countingTools } from '../library/pieces.ts';
import { chance } from './chance.ts';

export interface HostReport {
  readonly kills: number;
  readonly acknowledged: number;
  /** Acknowledged saves that could not be opened afterwards with what they held. */
  readonly lost: readonly string[];
  readonly damaged: readonly string[];
  /** Temporaries that the kills left behind, and how many of them are there after tidying a day later. */
  readonly leftovers: number;
  readonly leftAfterTidying: number;
}

const partsIn = async (root: string): Promise<string[]> =>
  (await readdir(root, { recursive: true, withFileTypes: true }))
    .filter(entry => entry.isFile() && entry.name.endsWith('.part'))
    .map(entry => join(entry.parentPath, entry.name));

/**
 * Kills hosts (SIGKILL: nothing of theirs runs any more) in the middle of saving to one folder, two at a
 * time, and looks whether every save that was acknowledged is still there.
 * @param kills rounds; two hosts are killed in each
 */
export const killHosts = async (kills: number, seed: number): Promise<HostReport> => {
  const home = await mkdtemp(join(tmpdir(), 'malletloom-torture-'));
  const root = join(home, 'library');
  const saver = join(home, 'saver.mjs');
  await build({
    entryPoints: [new URL('./saver.ts', import.meta.url).pathname],
    bundle: true,
    platform: 'node',
    format: 'esm',
    outfile: saver,
  });
  await nodeFolder(home).writeNew('library/.begun', new Uint8Array());
  const random = chance(seed);
  const acknowledged: [id: string, revision: string, title: string][] = [];
  const run = (name: string): { host: ChildProcess; first: Promise<unknown>; ended: Promise<unknown> } => {
    const host = spawn(process.execPath, [saver, root, name], { stdio: ['ignore', 'pipe', 'inherit'] });
    let said = '';
    const ended = new Promise(done => host.once('close', done));
    const first = new Promise(done => host.stdout.once('data', done));
    host.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
    void ended.then(() => {
      // A line without its end was not acknowledged.
      for (const line of said.split('\n').slice(0, -1)) {
        const [id = '', revision = '', ...title] = line.split(' ');
        acknowledged.push([id, revision, title.join(' ')]);
      }
    });
    return { host, first, ended };
  };
  for (let k = 0; k < kills; k++) {
    const both = ['a', 'b'].map(name => run(`${name}${String(seed)}-${String(k)}`));
    await Promise.race(both.map(one => Promise.race([one.first, one.ended])));
    for (const { host, ended } of both) {
      await wait(random() * 30);
      host.kill('SIGKILL');
      await ended;
    }
  }
  const library = openLibrary(nodeFolder(root), countingTools());
  const shelf = await library.shelf();
  const damaged = shelf.ok ? shelf.value.damaged.map(problem => problem.what) : [shelf.problem.what];
  const lost: string[] = [];
  for (const [id, revision, title] of acknowledged) {
    const piece = await library.open(id, revision);
    if (!piece.ok || piece.value.title !== title) lost.push(`${id} ${revision}`);
  }
  const leftovers = await partsIn(root);
  const then = new Date(Date.now() - 2 * 86_400_000);
  for (const file of leftovers) await utimes(file, then, then);
  await library.tidy();
  const leftAfterTidying = (await partsIn(root)).length;
  await rm(home, { recursive: true, force: true });
  return {
    kills,
    acknowledged: acknowledged.length,
    lost,
    damaged,
    leftovers: leftovers.length,
    leftAfterTidying,
  };
};
