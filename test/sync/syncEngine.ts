import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

// A real sync engine (Debian's syncthing), two of it on this computer: nothing is announced, asked of or sent to
// anybody else. Its configuration is as its documentation gives it (docs.syncthing.net, "Syncthing Configuration").

/** Whether Debian's syncthing is installed. */
export const hasSyncEngine = (): boolean => spawnSync('syncthing', ['--version']).status === 0;

/** One computer with a folder that is synced. */
export interface Machine {
  /** The class library's place. */
  readonly root: string;
  readonly online: () => Promise<void>;
  /** The engine stops; the folder stays and can be written to. */
  readonly offline: () => Promise<void>;
}

const freePort = (): Promise<number> =>
  new Promise(done => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      server.close(() => {
        done(port);
      });
    });
  });

/** Looks until something is so, or the time is over. */
export const until = async (what: string, seconds: number, isSo: () => Promise<boolean>): Promise<void> => {
  const end = Date.now() + seconds * 1000;
  while (!(await isSo().catch(() => false))) {
    if (Date.now() > end) throw new Error(`after ${String(seconds)} s still not so: ${what}`);
    await wait(200);
  }
};

interface Place {
  readonly home: string;
  readonly root: string;
  readonly id: string;
  readonly listen: number;
  readonly gui: number;
}

const KEY = 'only-for-this-test';

const configOf = (mine: Place, all: readonly Place[]): string => `<configuration version="36">
  <folder id="class" path="${mine.root}" type="sendreceive" rescanIntervalS="3600" fsWatcherEnabled="true" fsWatcherDelayS="1">
    ${all.map(one => `<device id="${one.id}"></device>`).join('')}
  </folder>
  ${all
    .map(
      one =>
        `<device id="${one.id}" name="${one.home}"><address>tcp://127.0.0.1:${String(one.listen)}</address></device>`,
    )
    .join('')}
  <gui enabled="true"><address>127.0.0.1:${String(mine.gui)}</address><apikey>${KEY}</apikey></gui>
  <options>
    <listenAddress>tcp://127.0.0.1:${String(mine.listen)}</listenAddress>
    <globalAnnounceEnabled>false</globalAnnounceEnabled>
    <localAnnounceEnabled>false</localAnnounceEnabled>
    <relaysEnabled>false</relaysEnabled>
    <natEnabled>false</natEnabled>
    <reconnectionIntervalS>1</reconnectionIntervalS>
    <startBrowser>false</startBrowser>
    <urAccepted>-1</urAccepted>
    <autoUpgradeIntervalH>0</autoUpgradeIntervalH>
    <crashReportingEnabled>false</crashReportingEnabled>
    <stunKeepaliveStartS>0</stunKeepaliveStartS>
  </options>
</configuration>`;

/** Two computers that share a folder; both are offline at first. */
export const twoMachines = async (): Promise<{
  readonly machines: readonly [Machine, Machine];
  readonly end: () => Promise<void>;
}> => {
  const base = await mkdtemp(join(tmpdir(), 'malletloom-sync-'));
  const env = { ...process.env, STNODEFAULTFOLDER: '1', STNOUPGRADE: '1' };
  const run = (...args: string[]): string => {
    const done = spawnSync('syncthing', args, { encoding: 'utf8', env });
    if (done.status !== 0) throw new Error(`syncthing ${args.join(' ')}: ${done.stderr}`);
    return done.stdout.trim();
  };
  const places: Place[] = [];
  for (const name of ['one', 'two']) {
    const home = join(base, name);
    const root = join(base, `${name}-library`);
    // The marker tells the engine that the folder is really there.
    await mkdir(join(root, '.stfolder'), { recursive: true });
    run('generate', `--home=${home}`, '--no-default-folder');
    const id = run(`--home=${home}`, '--device-id');
    places.push({ home, root, id, listen: await freePort(), gui: await freePort() });
  }
  for (const place of places) await writeFile(join(place.home, 'config.xml'), configOf(place, places));

  const engines = new Map<string, ChildProcess>();
  const stop = async (place: Place): Promise<void> => {
    const engine = engines.get(place.home);
    if (engine === undefined) return;
    engines.delete(place.home);
    const ended = new Promise(done => engine.once('close', done));
    // It puts its work away when asked to; one that does not answer is ended.
    engine.kill();
    const hard = setTimeout(() => engine.kill('SIGKILL'), 10_000);
    await ended;
    clearTimeout(hard);
  };
  const start = async (place: Place): Promise<void> => {
    const args = ['serve', `--home=${place.home}`, '--no-browser', '--no-restart', '--no-default-folder'];
    engines.set(place.home, spawn('syncthing', args, { env, stdio: 'ignore' }));
    await until('the engine answers', 30, async () => {
      const answer = await fetch(`http://127.0.0.1:${String(place.gui)}/rest/system/ping`, {
        headers: { 'X-API-Key': KEY },
      });
      return answer.ok;
    });
  };
  const machineOf = (place: Place | undefined): Machine => {
    if (place === undefined) throw new Error('no such machine');
    return { root: place.root, online: () => start(place), offline: () => stop(place) };
  };
  return {
    machines: [machineOf(places[0]), machineOf(places[1])],
    end: async () => {
      for (const place of places) await stop(place);
      await rm(base, { recursive: true, force: true });
    },
  };
};

/** Files of a folder tree that are no engine's own. */
export const filesIn = async (root: string): Promise<readonly string[]> =>
  (await readdir(root, { recursive: true, withFileTypes: true }))
    .filter(entry => entry.isFile() && !entry.parentPath.includes('.stfolder') && !entry.name.startsWith('.'))
    .map(entry => join(entry.parentPath, entry.name).slice(root.length + 1))
    .sort();
