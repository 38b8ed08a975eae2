import { askedWords, pieceHasWords } from '../../core/library/find.ts';
import type { RegisterEntry, LibraryTools } from '../../core/library/library.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { barePiece, countingTools } from '../library/pieces.ts';

/** A library of so many pieces, each with 64 strikes and notes: about what a lesson leaves. */
const fill = async (files: Map<string, Uint8Array>, tools: LibraryTools, count: number): Promise<void> => {
  const library = openLibrary(memoryFolder(files), tools);
  const piece = barePiece('x');
  const [strike] = piece.take.strikes;
  const [note] = piece.reading.notes;
  if (strike === undefined || note === undefined) throw new Error('the piece is empty');
  for (let i = 0; i < count; i++) {
    const saved = await library.save(
      {
        ...piece,
        id: `item-${String(i)}`,
        take: { ...piece.take, strikes: Array.from({ length: 64 }, (_, n) => ({ ...strike, at: n / 3 })) },
        reading: { ...piece.reading, notes: Array.from({ length: 64 }, (_, n) => ({ ...note, strike: n })) },
      },
      [],
    );
    if (!saved.ok) throw new Error(saved.problem.what);
  }
};

/** Prints how long a register of 30, 300 and 1000 pieces takes to read, at first and again. */
export const library = async (): Promise<void> => {
  for (const count of [30, 300, 1000]) {
    const files = new Map<string, Uint8Array>();
    await fill(files, countingTools(), count);
    const fresh = openLibrary(memoryFolder(files), countingTools(5000));
    const times: number[] = [];
    let entries: readonly RegisterEntry[] = [];
    for (let round = 0; round < 2; round++) {
      const start = performance.now();
      const shelf = await fresh.shelf();
      times.push(performance.now() - start);
      if (!shelf.ok || shelf.value.entries.length !== count) throw new Error('not every piece was read');
      entries = shelf.value.entries;
    }
    const searched: number[] = [];
    for (let round = 0; round < 2; round++) {
      const start = performance.now();
      const wanted = askedWords('nothing has this');
      if (entries.some(entry => pieceHasWords(entry.piece, wanted)))
        throw new Error('found what is not there');
      searched.push(performance.now() - start);
    }
    const size = [...files.values()].reduce((sum, bytes) => sum + bytes.length, 0) / count / 1024;
    const [first = 0, again = 0] = times;
    console.log(
      `  ${String(count)} pieces of ${size.toFixed(0)} kB: first ${first.toFixed(0)} ms, again ${again.toFixed(0)} ms; search: first ${(searched[0] ?? 0).toFixed(1)} ms, again ${(searched[1] ?? 0).toFixed(2)} ms`,
    );
  }
};
