import type { SketchStore } from '../../core/library/sketch.ts';
import { answerOf, openDatabase } from './database.ts';

const DATABASE = 'malletloom-register';
const STORE = 'sketches';

/** Registers of libraries this machine had open, in the browser's own database; one a place. */
export const browserSketches = (): SketchStore => {
  let database: Promise<IDBDatabase> | undefined;
  const store = async (mode: IDBTransactionMode): Promise<IDBObjectStore> => {
    database ??= openDatabase(DATABASE, opening => opening.createObjectStore(STORE));
    return (await database).transaction(STORE, mode).objectStore(STORE);
  };
  return {
    read: async where => answerOf<unknown>((await store('readonly')).get(where)),
    write: async (where, stored) => {
      await answerOf((await store('readwrite')).put(stored, where));
    },
  };
};
