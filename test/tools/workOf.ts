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
 * precise coverage), and the elements that built-in walks and copies of arrays passed. No clock: the same call is
 * the same work on every machine.
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
