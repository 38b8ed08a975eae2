import { failed, ok, type Problem, type Result, detailOf } from '../../../core/foundation/result.ts';
import type { ClassList } from '../../../core/library/classList.ts';
import type { Folder } from '../../../core/library/folder.ts';
import type { Library, Marks, RegisterEntry } from '../../../core/library/library.ts';
import type { Saved } from '../../../core/library/revision.ts';
import { inRegisterOrder } from '../../../core/library/revisions.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { shelved } from '../commands/aside.ts';
import { kept, setLibrary, showShelf } from '../commands/keeping.ts';
import { complain, tell } from '../commands/messages.ts';
import { openEntry } from '../commands/open.ts';
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
  /** The folder of the class library in use; undefined before one is. */
  readonly folder: () => Folder | undefined;
  /** Reads the register anew. */
  readonly refresh: () => Promise<void>;
  /** A piece of the register, whole; says so and gives nothing where it cannot be read. */
  readonly piece: (entry: Pick<RegisterEntry, 'id' | 'revision'>) => Promise<Piece | undefined>;
  /** Opens a piece of the register where it was left. */
  readonly open: (entry: RegisterEntry) => Promise<void>;
  /** Keeps the piece that lies here as a version. What is on screen stays, whatever happens. */
  readonly keep: () => Promise<void>;
  /** Puts a piece into the register as a draft. @returns whether it is there */
  readonly shelve: (piece: Piece) => Promise<boolean>;
  /** Keeps a class list as it now is, made from all its newest revisions. @returns whether it is there */
  readonly keepClass: (list: ClassList, marks?: Pick<Marks, 'away'>) => Promise<boolean>;
  /** Puts an item of the register away, or brings it back; nothing is destroyed. */
  readonly putAway: (entry: RegisterEntry, away: boolean) => Promise<void>;
  /** Every revision of a piece, newest first. */
  readonly versions: (id: string) => Promise<readonly Saved[]>;
  /** Makes a new newest revision with this content, made from all that are newest now. */
  readonly settle: (entry: RegisterEntry, piece: Piece, said: string) => Promise<boolean>;
  /** Keeps a piece as an item of its own. @param piece under an id of its own */
  readonly keepBeside: (piece: Piece) => Promise<boolean>;
}

export const createKeeper = (
  desk: Desk,
  saves: SaveQueue,
  finder: LibraryFinder,
  openLibrary: (folder: Folder) => Library,
): Keeper => {
  let library: Library | undefined;
  let inUse: Folder | undefined;

  const readAnew = async (asked: Library): Promise<void> => {
    const shelf = await asked.shelf();
    if (asked !== library) return;
    if (shelf.ok) {
      desk.run(showShelf, shelf.value);
      return;
    }
    desk.run(setLibrary, { state: 'failed' });
    desk.run(complain, shelf.problem);
  };

  /** The reading under way, and the one that waits for it: it sees what came meanwhile. */
  let reading: { readonly of: Library; readonly done: Promise<void>; next?: Promise<void> } | undefined;
  const refresh = (): Promise<void> => {
    const asked = library;
    if (asked === undefined) return Promise.resolve();
    if (reading?.of !== asked) {
      const mine = {
        of: asked,
        done: readAnew(asked).finally(() => {
          if (reading === mine) reading = undefined;
        }),
      };
      reading = mine;
      return mine.done;
    }
    reading.next ??= reading.done.then(refresh);
    return reading.next;
  };

  /** Pieces that were opened or saved last, so that a line seen again is not read again. */
  const lately = new Map<string, Piece>();
  const keepNear = (entry: Pick<RegisterEntry, 'id' | 'revision'>, piece: Piece): void => {
    const name = `${entry.id}/${entry.revision}`;
    lately.delete(name);
    lately.set(name, piece);
    const [oldest] = lately.keys();
    if (lately.size > MOST_NEAR && oldest !== undefined) lately.delete(oldest);
  };
  const pieceOf = async (entry: Pick<RegisterEntry, 'id' | 'revision'>): Promise<Piece | undefined> => {
    const near = lately.get(`${entry.id}/${entry.revision}`);
    if (near !== undefined) return near;
    const found = await (library?.open(entry.id, entry.revision) ?? Promise.resolve(failed(CLOSED)));
    if (!found.ok) {
      desk.run(complain, found.problem);
      return undefined;
    }
    keepNear(entry, found.value);
    return found.value;
  };

  const use = async (folder: Folder): Promise<void> => {
    const mine = openLibrary(folder);
    library = mine;
    inUse = folder;
    lately.clear();
    desk.run(setLibrary, { state: 'opening', where: mine.where, mayBeCleared: folder.mayBeCleared === true });
    // What the machine remembers is shown at once; the folder then says what is really there.
    const entries = await mine.remembered();
    if (entries !== undefined && mine === library) desk.run(setLibrary, { state: 'open', entries });
    await refresh();
    // Of no concern to the teacher whether it succeeds: what is left over is in nobody's way.
    void mine.tidy();
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

  /** Shows what was saved at once, however long reading everything anew takes. */
  const showSaved = (saved: RegisterEntry, piece: Piece): void => {
    keepNear(saved, piece);
    const others = desk.now().live.library.entries.filter(entry => entry.id !== saved.id);
    desk.run(setLibrary, { entries: inRegisterOrder([...others, saved]) });
  };

  /** Saves in turn, in the library there is now; then reads the register anew. @returns whether it was saved */
  const save = async <T>(
    job: (library: Library) => Promise<Result<T>>,
    done: (saved: T) => void,
  ): Promise<boolean> => {
    const asked = library;
    if (asked === undefined) return false;
    let saved = false;
    await saves.inTurn(
      () => job(asked),
      what => {
        saved = true;
        done(what);
        refresh().catch((thrown: unknown) => {
          desk.run(complain, unreadable(thrown));
        });
      },
    );
    return saved;
  };

  const parentsOf = (id: string): readonly string[] => {
    const parent = desk.now().document.revisions[id];
    return parent === undefined ? [] : [parent];
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
    folder: () => inUse,
    refresh,
    piece: pieceOf,
    open: async entry => {
      const piece = await pieceOf(entry);
      if (piece !== undefined) desk.run(openEntry, { ...entry, piece });
    },
    keep: async () => {
      const pressed = desk.now().document.history?.present.piece;
      await save(
        async asked => {
          // Worked out in its turn: what was kept just before is what this one is made from.
          const { history, kept: last } = desk.now().document;
          const here = history?.present.piece;
          // Who presses Next at once has kept it all the same.
          const piece = here?.id === pressed?.id ? here : pressed;
          if (piece === undefined || piece === last) return ok(undefined);
          const entry = await asked.save(piece, parentsOf(piece.id));
          return entry.ok ? ok({ piece, entry: entry.value }) : entry;
        },
        saved => {
          if (saved === undefined) return;
          desk.run(kept, saved.piece, saved.entry);
          showSaved(saved.entry, saved.piece);
        },
      );
    },
    shelve: piece =>
      save(
        async asked =>
          // It may have become a version while it waited.
          desk.now().document.outbox.includes(piece)
            ? asked.save(piece, parentsOf(piece.id), { draft: true })
            : ok(undefined),
        entry => {
          if (entry === undefined) return;
          desk.run(shelved, piece, entry);
          showSaved(entry, piece);
        },
      ),
    keepClass: (list, marks) =>
      save(
        asked => {
          const known = desk.now().live.library.classes.find(entry => entry.list.id === list.id);
          return asked.saveClass(list, known?.heads ?? [], marks);
        },
        // Shown at once: the next change is made from this one.
        saved => {
          const { classes } = desk.now().live.library;
          desk.run(setLibrary, {
            classes: [...classes.filter(entry => entry.list.id !== saved.list.id), saved],
          });
        },
      ),
    putAway: async (entry, away) => {
      const marks = {
        ...(entry.draft ? { draft: true as const } : {}),
        ...(away ? { away: true as const } : {}),
      };
      const piece = await pieceOf(entry);
      if (piece === undefined) return;
      await save(
        asked => asked.save(piece, [entry.revision, ...entry.rivals], marks),
        saved => {
          desk.run(shelved, piece, saved);
          showSaved(saved, piece);
          desk.run(tell, `${entry.facts.title} is ${away ? 'put away' : 'back'}.`);
        },
      );
    },
    versions: async id => {
      const found = await (library?.versions(id) ?? Promise.resolve(failed(CLOSED)));
      if (found.ok) return found.value;
      desk.run(complain, found.problem);
      return [];
    },
    settle: (entry, piece, said) =>
      save(
        asked => asked.save(piece, [entry.revision, ...entry.rivals]),
        saved => {
          desk.run(shelved, piece, saved);
          showSaved(saved, piece);
          desk.run(tell, said);
        },
      ),
    keepBeside: piece =>
      save(
        asked => asked.save(piece, []),
        saved => {
          desk.run(shelved, piece, saved);
          showSaved(saved, piece);
        },
      ),
  };
};

/** More than there are lines in sight. */
const MOST_NEAR = 60;

const CLOSED: Problem = {
  kind: 'folder-gone',
  what: 'The class library is not open.',
  kept: 'Nothing was changed.',
  next: 'Go to Keep and look where it is.',
};

const unreadable = (thrown: unknown) =>
  ({
    kind: 'unexpected',
    what: 'The register could not be read anew.',
    kept: 'The piece was kept.',
    next: 'Go to another place and back to Keep.',
    detail: detailOf(thrown),
  }) as const;
