/** What a request to the browser's database gives. */
export const answerOf = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((done, fail) => {
    request.onsuccess = () => {
      done(request.result);
    };
    request.onerror = () => {
      fail(request.error ?? new Error('no answer'));
    };
  });

/** Opens a database of the first and only version. @param make its stores, when it is not there yet */
export const openDatabase = (name: string, make: (database: IDBDatabase) => void): Promise<IDBDatabase> => {
  const opening = indexedDB.open(name, 1);
  opening.onupgradeneeded = () => {
    make(opening.result);
  };
  return answerOf(opening);
};
