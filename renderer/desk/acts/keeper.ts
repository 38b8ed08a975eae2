import { detailOf, ok, type Result } from '../../../core/foundation/result.ts';
import type { Folder } from '../../../core/library/folder.ts';
import type { Library } from '../../../core/library/library.ts';
import { kept, setLibrary, showShelf } from '../commands/keeping.ts';
import { complain } from '../commands/messages.ts';
import type { Desk } from '../desk.ts';
import type { SaveQueue } from '../saveQueue.ts';
import type { LibraryFinder } from '../../storage/libraryFinder.ts';

/** The class library: opened, read, and added to. */
export interface Keeper {
  /** Opens a class library at start; there always is one, if only until the page is closed. */
  readonly openAtStart: () => Promise<void>;
  /** The teacher chooses a folder for the class library. What is kept elsewhere stays there. */
  readonly chooseFolder: () => Promise<void>;
  /** Opens the folder of an earlier session again. */
  readonly openWaiting: () => Promise<void>;
  readonly canChooseFolder: () => boolean;
  /** Reads the register anew. */
  readonly refresh: () => Promise<void>;
  /** Keeps the piece that lies here as a new revision. What is on screen stays, whatever happens. */
  readonly keep: () => Promise<void>;
}

export const createKeeper = (
  desk: Desk,
  saves: SaveQueue,
  finder: LibraryFinder,
  openLibrary: (folder: Folder) => Library,
): Keeper => {
  let library: Library | undefined;

  const refresh = async (): Promise<void> => {
    const asked = library;
    if (asked === undefined) return;
    const shelf = await asked.shelf();
    if (asked !== library) return;
    if (shelf.ok) {
      desk.run(showShelf, shelf.value);
      return;
    }
    desk.run(setLibrary, { state: 'failed' });
    desk.run(complain, shelf.problem);
  };

  const use = async (folder: Folder): Promise<void> => {
    library = openLibrary(folder);
    desk.run(setLibrary, { state: 'opening', where: library.where });
    await refresh();
    // Of no concern to the teacher whether it succeeds: what is left over is in nobody's way.
    void library.tidy();
  };

  const useChosen = async (chosen: Result<Folder | undefined>): Promise<void> => {
    if (!chosen.ok) {
      desk.run(complain, chosen.problem);
      return;
    }
    if (chosen.value === undefined) return;
    desk.run(setLibrary, { waitingFolder: undefined });
    await use(chosen.value);
  };

  return {
    openAtStart: async () => {
      const { folder, waiting, problem } = await finder.atStart();
      if (problem !== undefined) desk.run(complain, problem);
      desk.run(setLibrary, { waitingFolder: waiting });
      await use(folder);
    },
    chooseFolder: async () => {
      await useChosen(await finder.choose());
    },
    openWaiting: async () => {
      await useChosen(await finder.openWaiting());
    },
    canChooseFolder: finder.canChoose,
    refresh,
    keep: () => {
      const asked = library;
      if (asked === undefined) return Promise.resolve();
      return saves.inTurn(
        async () => {
          // Worked out in its turn: what was kept just before is what this one is made from.
          const { history, kept: last, revisions } = desk.now().document;
          const piece = history?.present.piece;
          if (piece === undefined || piece === last) return ok(undefined);
          const parent = revisions[piece.id];
          const entry = await asked.save(piece, parent === undefined ? [] : [parent]);
          return entry.ok ? ok({ piece, entry: entry.value }) : entry;
        },
        saved => {
          if (saved === undefined) return;
          desk.run(kept, saved.piece, saved.entry);
          refresh().catch((thrown: unknown) => {
            desk.run(complain, unreadable(thrown));
          });
        },
      );
    },
  };
};

const unreadable = (thrown: unknown) =>
  ({
    kind: 'unexpected',
    what: 'The register could not be read anew.',
    kept: 'The piece was kept.',
    next: 'Go to another place and back to Keep.',
    detail: detailOf(thrown),
  }) as const;
