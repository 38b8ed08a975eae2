/** What walks, copies or sorts a whole array. */
const WALKS = [
  'concat',
  'every',
  'filter',
  'find',
  'findIndex',
  'flatMap',
  'forEach',
  'includes',
  'indexOf',
  'map',
  'reduce',
  'slice',
  'some',
  'sort',
  'splice',
] as const;

/**
 * How many elements of arrays a call walks past, by methods and by loops: the same at every time and on every machine,
 * for laws of growth. A walk that ends early is counted whole; loops by number, and typed arrays, not at all.
 */
export const arrayWorkOf = (call: () => unknown): number => {
  let work = 0;
  const own = [...WALKS, Symbol.iterator] as const;
  const kept = own.map(name => [name, Reflect.get(Array.prototype, name) as unknown] as const);
  const put = (name: string | symbol, value: unknown): void => {
    Object.defineProperty(Array.prototype, name, { configurable: true, writable: true, value });
  };
  for (const [name, method] of kept)
    put(name, function (this: unknown[], ...given: unknown[]): unknown {
      work += this.length;
      return Reflect.apply(method as (...all: unknown[]) => unknown, this, given);
    });
  try {
    call();
  } finally {
    for (let i = 0; i < kept.length; i++) put(kept[i]?.[0] ?? '', kept[i]?.[1]);
  }
  return work;
};
