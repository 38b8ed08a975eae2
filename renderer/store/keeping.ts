import { signal } from '@preact/signals';
import type { RegisterEntry, Library } from '../../core/library/library.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { detailOf, type Problem } from '../../core/foundation/result.ts';
import { keptPiece, notice, piece } from './app.ts';
import { complain, openPiece, valueOr } from './change.ts';

/** The class library in use; undefined until it is opened. */
export const library = signal<Library | undefined>(undefined);
export const entries = signal<readonly RegisterEntry[]>([]);
export const damaged = signal<readonly Problem[]>([]);
export const libraryState = signal<'closed' | 'opening' | 'open' | 'failed'>('closed');
/** The revision the open piece was saved as or opened from. */
const revisionOf = new Map<string, string>();

/** Reads the register anew. */
export const refresh = async (): Promise<void> => {
  const now = library.value;
  if (now === undefined) return;
  const shelf = valueOr(await now.shelf());
  if (shelf === undefined) {
    libraryState.value = 'failed';
    return;
  }
  entries.value = shelf.entries;
  damaged.value = shelf.damaged;
  libraryState.value = 'open';
};

/** Takes a class library into use. */
export const useLibrary = async (chosen: Library): Promise<void> => {
  library.value = chosen;
  libraryState.value = 'opening';
  await refresh();
};

/** Keeps the open piece as a new revision. What is on screen stays, whatever happens. */
export const keepPiece = async (): Promise<void> => {
  const now = piece.value;
  const shelf = library.value;
  if (now === undefined || shelf === undefined) return;
  const parent = revisionOf.get(now.id);
  try {
    const entry = valueOr(await shelf.save(now, parent === undefined ? [] : [parent]));
    if (entry === undefined) return;
    revisionOf.set(now.id, entry.revision);
    keptPiece.value = now;
    notice.value = `Kept: ${now.codeName}, ${now.title}.`;
    await refresh();
  } catch (thrown) {
    complain({
      kind: 'unexpected',
      what: 'The piece could not be kept.',
      kept: 'It is still open here, with everything that can be undone.',
      next: 'Try again; if it happens again, export the MusicXML file.',
      detail: detailOf(thrown),
    });
  }
};

/** Opens a kept piece. */
export const openEntry = (entry: RegisterEntry): void => {
  revisionOf.set(entry.id, entry.revision);
  openPiece(entry.piece);
};

export const isKept = (now: Piece | undefined): boolean => now !== undefined && keptPiece.value === now;
