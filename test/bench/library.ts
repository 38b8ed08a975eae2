import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { askedWords, factsHaveWords } from '../../core/library/find.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { revisionPath } from '../../core/library/paths.ts';
import { NO_FILTER, filteredRows, registerRows, sortedRows } from '../../core/library/register.ts';
import { encodeSaved } from '../../core/library/saved.ts';
import type { SketchStore } from '../../core/library/sketch.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { nodeFolder } from '../../electron/desktop/nodeFolder.ts';
import { barePiece, countingTools, sha256 } from '../library/pieces.ts';

/** A piece with 64 strikes and notes: about what a lesson leaves. */
const lessonPiece = (id: string): Piece => {
  const piece = barePiece(id);
  const [strike] = piece.take.strikes;
  const [note] = piece.reading.notes;
  if (strike === undefined || note === undefined) throw new Error('the piece is empty');
  return {
    ...piece,
    take: { ...piece.take, strikes: Array.from({ length: 64 }, (_, n) => ({ ...strike, at: n / 3 })) },
    reading: { ...piece.reading, notes: Array.from({ length: 64 }, (_, n) => ({ ...note, strike: n })) },
  };
};

/** A folder on this disk with so many pieces. @returns bytes of one */
const fill = async (root: string, count: number): Promise<number> => {
  let size = 0;
  for (let i = 0; i < count; i++) {
    const id = `item-${String(i)}`;
    const stamp = { id, revision: 'r1', parents: [], savedAt: '2026-01-05T09:00:00.000Z' };
    const bytes = await encodeSaved({ ...stamp, piece: lessonPiece(id) }, sha256);
    if (!bytes.ok) throw new Error(bytes.problem.what);
    const path = join(root, revisionPath(id, 'r1'));
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, bytes.value);
    size = bytes.value.length;
  }
  return size;
};

/** A machine's memory as a browser's database keeps it: a copy each way. */
const memory = (): SketchStore => {
  let kept: unknown;
  return {
    read: () => Promise.resolve(structuredClone(kept)),
    write: (_, stored) => {
      kept = structuredClone(stored);
      return Promise.resolve();
    },
  };
};

const timed = async <T>(job: () => Promise<T> | T): Promise<{ value: T; ms: number }> => {
  const start = performance.now();
  const value = await job();
  return { value, ms: performance.now() - start };
};

/** Prints how long a register takes to open for the first time, from this machine's memory, and from the disk again. */
export const library = async (): Promise<void> => {
  for (const count of [30, 300, 1000, 10_000]) {
    const root = mkdtempSync(join(tmpdir(), 'malletloom-bench-'));
    try {
      const size = await fill(root, count);
      const store = memory();
      const first = await timed(() => openLibrary(nodeFolder(root), countingTools(5000), store).shelf());
      if (!first.value.ok || first.value.value.entries.length !== count)
        throw new Error('not every piece was read');
      const fresh = openLibrary(nodeFolder(root), countingTools(9000), store);
      const remembered = await timed(() => fresh.remembered());
      const entries = remembered.value ?? [];
      if (entries.length !== count) throw new Error('not every piece was remembered');
      const again = await timed(() => fresh.shelf());
      const rows = await timed(() =>
        sortedRows(registerRows({ entries, classes: [], open: undefined, waiting: [] }), 'pupil', false),
      );
      const wanted = askedWords('nothing has this');
      const search = await timed(() => entries.some(entry => factsHaveWords(entry.facts, wanted)));
      const words = await timed(() => filteredRows(rows.value, { ...NO_FILTER, words: 'nothing has' }));
      if (search.value || words.value.length > 0) throw new Error('found what is not there');
      const save = await timed(() => fresh.save({ ...lessonPiece('item-1'), title: 'New' }, ['r1']));
      if (!save.value.ok) throw new Error(save.value.problem.what);
      console.log(
        `  ${String(count)} pieces of ${(size / 1024).toFixed(0)} kB on disk: first ${first.ms.toFixed(0)} ms, remembered ${remembered.ms.toFixed(0)} ms (${(remembered.ms / first.ms).toFixed(3)} of the first), from disk again ${again.ms.toFixed(0)} ms; lines ${rows.ms.toFixed(0)} ms, first search ${search.ms.toFixed(1)} ms, words asked for again ${words.ms.toFixed(1)} ms; save ${save.ms.toFixed(0)} ms`,
      );
    } finally {
      rmSync(root, { recursive: true, force: true });
    }
  }
};
