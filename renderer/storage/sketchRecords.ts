import type { SketchStore } from '../../core/library/sketch.ts';
import { answerOf, openDatabase } from './database.ts';

const DATABASE = 'malletloom-register';
const STORE = 'sketches';
/** A database that does not answer must not keep the register shut, in ms: the files have everything too. */
const PATIENCE = 1500;

/** Registers of libraries this machine had open, in the browser's own database; one a place. */
export const browserSketches = (): SketchStore => {
  let database: Promise<IDBDatabase> | undefined;
  const store = async (mode: IDBTransactionMode): Promise<IDBObjectStore> => {
    database ??= openDatabase(DATABASE, opening => opening.createObjectStore(STORE));
    return (await database).transaction(STORE, mode).objectStore(STORE);
  };
  return {
    read: where => {
      const found = store('readonly').then(sketches => answerOf<unknown>(sketches.get(where)));
      const tooLong = new Promise<undefined>(done => setTimeout(done, PATIENCE));
      return Promise.race([found, tooLong]);
    },
    write: async (where, stored) => {
      await answerOf((await store('readwrite')).put(stored, where));
    },
  };
};
