/** Undo and redo without limit: every state kept, each step named for the menu. */
export interface History<T> {
  readonly past: readonly { readonly name: string; readonly state: T }[];
  readonly present: T;
  readonly future: readonly { readonly name: string; readonly state: T }[];
}

/**
 * A history of one state, with nothing to undo.
 * @example
 * startHistory('a').present // => 'a'
 */
export const startHistory = <T>(present: T): History<T> => ({ past: [], present, future: [] });

/**
 * A new state; what had been undone is dropped. `name` says what was done ("move E5 later").
 * @example
 * record(startHistory('a'), 'b', 'c').past // => [{ name: 'b', state: 'a' }]
 */
export const record = <T>(history: History<T>, name: string, state: T): History<T> => ({
  past: [...history.past, { name, state: history.present }],
  present: state,
  future: [],
});

/**
 * One change back; the same history where there is none.
 * @example
 * undo(record(startHistory('a'), 'to b', 'b')).present // => 'a'
 */
export const undo = <T>(history: History<T>): History<T> => {
  const last = history.past.at(-1);
  if (last === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: last.state,
    future: [{ name: last.name, state: history.present }, ...history.future],
  };
};

/**
 * One undone change forward; the same history where there is none.
 * @example
 * redo(undo(record(startHistory('a'), 'to b', 'b'))).present // => 'b'
 */
export const redo = <T>(history: History<T>): History<T> => {
  const [next, ...rest] = history.future;
  if (next === undefined) return history;
  return {
    past: [...history.past, { name: next.name, state: history.present }],
    present: next.state,
    future: rest,
  };
};
