import { ok } from '../../../core/foundation/result.ts';
import type { RegisterEntry, Shelf } from '../../../core/library/library.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { pieceInWords } from '../../../core/piece/pupil.ts';
import type { Command } from '../command.ts';
import type { LibraryState } from '../live.ts';
import { withLive } from '../state.ts';

/** The class library changed its state. */
export const setLibrary: Command<[change: Partial<LibraryState>]> = (desk, change) =>
  ok(withLive(desk, { library: { ...desk.live.library, ...change } }));

/** The register as the library has it now. */
export const showShelf: Command<[shelf: Shelf]> = (desk, shelf) =>
  setLibrary(desk, { state: 'open', ...shelf });

/** A piece was kept as this revision. */
export const kept: Command<[piece: Piece, entry: Pick<RegisterEntry, 'id' | 'revision'>]> = (
  desk,
  piece,
  entry,
) =>
  ok({
    ...withLive(desk, { notice: `Kept: ${pieceInWords(piece)}.` }),
    document: {
      ...desk.document,
      // Somebody else may have sat down since; then the draft on its way is this version.
      kept: desk.document.history?.present.piece.id === piece.id ? piece : desk.document.kept,
      outbox: desk.document.outbox.filter(waiting => waiting !== piece),
      revisions: { ...desk.document.revisions, [entry.id]: entry.revision },
    },
  });
