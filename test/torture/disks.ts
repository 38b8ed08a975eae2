import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rename, rm, utimes } from 'node:fs/promises';
import * as nodeFs from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { ProblemKind } from '../../core/foundation/result.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { type Disk, nodeFolder } from '../../electron/desktop/nodeFolder.ts';
import { barePiece, countingTools } from '../library/pieces.ts';
import { chance } from './chance.ts';

// Disks that fail: full in the middle of a file, read-only, torn out, erring at random; two writers at a time.

export interface DiskReport {
  readonly acknowledged: number;
  /** Saves that were refused, by the kind of their problem. */
  readonly refused: Readonly<Partial<Record<ProblemKind, number>>>;
  /** Acknowledged saves that cannot be opened with what they held, once the disk is well again. */
  readonly lost: readonly string[];
  readonly damaged: readonly string[];
  readonly leftAfterTidying: number;
  /** Whether a save went through once the disk was well again. */
  readonly isWell: boolean;
}

/** How a disk fails while it does: the codes of POSIX, and how often one comes. */
interface Illness {
  readonly code: string;
  readonly share: number;
}
const ILLNESSES: readonly (Illness | undefined)[] = [
  undefined,
  { code: 'ENOSPC', share: 0.5 },
  { code: 'EROFS', share: 1 },
  { code: 'EIO', share: 0.3 },
  { code: 'EACCES', share: 0.02 },
  { code: 'EDQUOT', share: 0.3 },
];

const failing = (code: string): Error => Object.assign(new Error(`${code}: made to fail`), { code });

/** A disk whose every writing act may fail; a file may be written in part before it does. */
const sickDisk = (random: () => number, illness: () => Illness | undefined): Disk => {
  const perhaps = (): void => {
    const now = illness();
    if (now !== undefined && random() < now.share) throw failing(now.code);
  };
  const before =
    <Given extends unknown[], T>(act: (...given: Given) => Promise<T>) =>
    async (...given: Given): Promise<T> => {
      perhaps();
      return act(...given);
    };
  const open = async (...given: Parameters<typeof nodeFs.open>): Promise<nodeFs.FileHandle> => {
    perhaps();
    const file = await nodeFs.open(...given);
    const write = file.writeFile.bind(file);
    file.writeFile = async (bytes: Parameters<typeof write>[0]) => {
      const now = illness();
      if (now === undefined || random() >= now.share || !(bytes instanceof Uint8Array)) return write(bytes);
      await write(bytes.subarray(0, Math.floor(random() * bytes.length)));
      throw failing(now.code);
    };
    const sync = file.sync.bind(file);
    file.sync = async () => {
      perhaps();
      return sync();
    };
    return file;
  };
  return {
    open,
    link: before(nodeFs.link),
    rename: before(nodeFs.rename),
    unlink: before(nodeFs.unlink),
    // Of the many forms these two have, the folder uses the plainest.
    mkdir: before((place: string) => nodeFs.mkdir(place)) as Disk['mkdir'],
    readdir: before((place: string) => nodeFs.readdir(place)) as Disk['readdir'],
    lstat: nodeFs.lstat,
    realpath: nodeFs.realpath,
  };
};

type Told = [id: string, revision: string, title: string];

const lookAfterwards = async (root: string, told: readonly Told[]) => {
  const library = openLibrary(nodeFolder(root), countingTools(0, 'well-'));
  const isWell = (await library.save(barePiece('last', 'Well again'), [])).ok;
  const shelf = await library.shelf();
  const damaged = shelf.ok ? shelf.value.damaged.map(problem => problem.what) : [shelf.problem.what];
  const lost: string[] = [];
  for (const [id, revision, title] of told) {
    const piece = await library.open(id, revision);
    if (!piece.ok || piece.value.title !== title) lost.push(`${id} ${revision}`);
  }
  const parts = async (): Promise<string[]> =>
    (await readdir(root, { recursive: true, withFileTypes: true }))
      .filter(entry => entry.isFile() && entry.name.endsWith('.part'))
      .map(entry => join(entry.parentPath, entry.name));
  const then = new Date(Date.now() - 2 * 86_400_000);
  for (const file of await parts()) await utimes(file, then, then);
  await library.tidy();
  return { acknowledged: told.length, lost, damaged, leftAfterTidying: (await parts()).length, isWell };
};

/** Two writers save in turns to one folder; what was acknowledged and what was refused is noted. */
const savesTo = async (
  root: string,
  disk: Disk,
  saves: number,
  between: (save: number) => Promise<void> | void,
) => {
  const told: Told[] = [];
  const refused: Partial<Record<ProblemKind, number>> = {};
  const writers = ['a', 'b'].map(name => openLibrary(nodeFolder(root, disk), countingTools(0, `${name}-`)));
  for (let save = 0; save < saves; save++) {
    await between(save);
    await Promise.all(
      writers.map(async (library, w) => {
        const id = `piece-${String(save % 5)}`;
        const title = `${String(w)} ${String(save)}`;
        const shelf = await library.shelf();
        const entry = shelf.ok ? shelf.value.entries.find(one => one.id === id) : undefined;
        const saved = await library.save(barePiece(id, title), entry === undefined ? [] : [entry.revision]);
        if (saved.ok) told.push([id, saved.value.revision, title]);
        else refused[saved.problem.kind] = (refused[saved.problem.kind] ?? 0) + 1;
      }),
    );
  }
  return { told, refused };
};

/**
 * Saves to a disk that falls ill and gets well, in every way of `ILLNESSES`, and is moved away and brought back.
 * @param saves of each of two writers
 */
export const failDisks = async (saves: number, seed: number): Promise<DiskReport> => {
  const home = await mkdtemp(join(tmpdir(), 'malletloom-disks-'));
  const root = join(home, 'library');
  await mkdir(root);
  const random = chance(seed);
  let illness: Illness | undefined;
  const away = join(home, 'away');
  /** Moves the folder to where it shall be, if it is not there. */
  const place = async (from: string, to: string): Promise<void> => {
    await rename(from, to).catch(() => undefined);
  };
  const { told, refused } = await savesTo(
    root,
    sickDisk(random, () => illness),
    saves,
    async save => {
      // Well at first; then each illness for ten saves, and the folder gone for five of each forty.
      illness = save < 10 ? undefined : ILLNESSES[Math.floor(save / 10) % ILLNESSES.length];
      await (save % 40 >= 35 ? place(root, away) : place(away, root));
    },
  );
  illness = undefined;
  await place(away, root);
  const seen = await lookAfterwards(root, told);
  await rm(home, { recursive: true, force: true });
  return { ...seen, refused };
};

/**
 * Saves to a real file system of 300 kB until it is full, and beyond; then makes room.
 * @returns undefined where none may be mounted
 */
export const fillDisk = async (saves: number): Promise<DiskReport | undefined> => {
  const run = promisify(execFile);
  const root = await mkdtemp(join(tmpdir(), 'malletloom-full-'));
  try {
    await run('mount', ['-t', 'tmpfs', '-o', 'size=300k', 'malletloom', root]);
  } catch {
    await rm(root, { recursive: true, force: true });
    return undefined;
  }
  try {
    const { told, refused } = await savesTo(root, nodeFs, saves, () => undefined);
    await run('mount', ['-o', 'remount,size=4m', root]);
    return { ...(await lookAfterwards(root, told)), refused };
  } finally {
    await run('umount', [root]);
    await rm(root, { recursive: true, force: true });
  }
};
