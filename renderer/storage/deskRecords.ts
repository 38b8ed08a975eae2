import { answerOf, openDatabase } from './database.ts';

/** Where what lies on the desk is kept by itself: one record a window, taken up again after a reload or a crash. */
export interface DeskRecords {
  /** The record of this window; else the newest that no other window holds; undefined where there is none. */
  readonly read: () => Promise<unknown>;
  /** Puts the record in place of the one before, whole or not at all. */
  readonly write: (record: object) => Promise<void>;
}

const DATABASE = 'malletloom-desk';
const STORE = 'desks';
/** Names this window through reloads; a copy of the window in another tab is told apart by its lock. */
const WINDOW = 'malletloom.window';

interface Row {
  readonly id: string;
  /** Milliseconds since 1970; which is newest. */
  readonly at: number;
  readonly record: object;
}

const open = (): Promise<IDBDatabase> =>
  openDatabase(DATABASE, database => database.createObjectStore(STORE, { keyPath: 'id' }));

/** Holds a name for as long as this window lives; false where another window holds it. */
const hold = (id: string): Promise<boolean> =>
  new Promise(done => {
    void navigator.locks
      .request(`${DATABASE} ${id}`, { ifAvailable: true }, lock => {
        done(lock !== null);
        // Never let go: the browser does, when the window is gone.
        return lock === null ? undefined : new Promise<void>(() => undefined);
      })
      .catch(() => {
        done(false);
      });
  });

/** Records in this browser's own database. @param newId a sortable, unique name */
export const browserRecords = (newId: () => string): DeskRecords => {
  let mine: string | undefined;
  let database: Promise<IDBDatabase> | undefined;
  const rows = async (): Promise<readonly Row[]> => {
    database ??= open();
    const all: readonly Row[] = await answerOf(
      (await database).transaction(STORE, 'readonly').objectStore(STORE).getAll(),
    );
    return [...all].sort((a, b) => b.at - a.at);
  };
  const take = (id: string): void => {
    mine = id;
    sessionStorage.setItem(WINDOW, id);
  };

  return {
    read: async () => {
      const all = await rows();
      const before = sessionStorage.getItem(WINDOW);
      const wanted = [...all.filter(row => row.id === before), ...all.filter(row => row.id !== before)];
      for (const row of wanted) {
        if (!(await hold(row.id))) continue;
        take(row.id);
        return row.record;
      }
      return undefined;
    },
    write: async record => {
      if (mine === undefined) {
        const id = newId();
        await hold(id);
        take(id);
      }
      database ??= open();
      const row: Row = { id: mine ?? '', at: Date.now(), record };
      const writing = (await database).transaction(STORE, 'readwrite', { durability: 'strict' });
      writing.objectStore(STORE).put(row);
      // Said at once: a window that is being closed waits for no answer.
      writing.commit();
      await new Promise<void>((done, fail) => {
        writing.oncomplete = () => {
          done();
        };
        writing.onabort = () => {
          fail(writing.error ?? new Error('not written'));
        };
      });
    },
  };
};
