import { Session } from 'node:inspector';

interface Covered {
  readonly result: readonly {
    readonly url: string;
    readonly functions: readonly { readonly ranges: readonly { readonly count: number }[] }[];
  }[];
}

/** What walks or copies a whole array within the engine, where no block of our code is counted. */
const WALKS = ['concat', 'splice', 'slice', 'indexOf', 'includes', 'unshift', 'shift'] as const;

/**
 * How much work a call is, for laws of growth: the blocks of code it went through, counted by the engine (V8's
 * precise coverage), and the elements that built-in walks and copies of arrays passed. No clock. The engine counts less of
 * what it compiled before, by what else was run: `growthOf` asks several times.
 */
export const workOf = (call: () => unknown): number => {
  const session = new Session();
  session.connect();
  let work = 0;
  const kept: Readonly<Record<string, unknown>> = Object.fromEntries(
    WALKS.map(name => [name, Reflect.get(Array.prototype, name)]),
  );
  const own = Object.entries(kept);
  for (const [name, method] of own) {
    Object.defineProperty(Array.prototype, name, {
      configurable: true,
      writable: true,
      value(this: unknown[], ...given: unknown[]): unknown {
        work += this.length;
        return (method as (...all: unknown[]) => unknown).apply(this, given);
      },
    });
  }
  try {
    session.post('Profiler.enable');
    session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
    call();
    session.post('Profiler.takePreciseCoverage', (problem, found) => {
      if (problem !== null) throw new Error(problem.message);
      for (const { functions } of (found as Covered).result)
        for (const { ranges } of functions) for (const { count } of ranges) work += count;
    });
    session.post('Profiler.stopPreciseCoverage');
  } finally {
    for (const [name, method] of own)
      Object.defineProperty(Array.prototype, name, { configurable: true, writable: true, value: method });
    session.disconnect();
  }
  return work;
};

/** How often the growth is counted. */
const COUNTS = 3;

/**
 * How many times the work of `few` the work of `many` is: the least of several counts, for one that came out too low for
 * `few` says nothing. A law that holds it under a limit cannot fail by chance; a small walk may escape it.
 */
export const growthOf = (many: () => unknown, few: () => unknown): number =>
  Math.min(...Array.from({ length: COUNTS }, () => workOf(many) / workOf(few)));
