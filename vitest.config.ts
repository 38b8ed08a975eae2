import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  define: { __CHECK_INDICES__: 'true' },
  test: {
    include: ['test/**/*.test.ts', 'test/**/*.test.tsx'],
    // The longest law takes a seventh of it here; a test that hangs still ends.
    testTimeout: 90_000,
    environment: 'node',
    // One thread keeps what it has loaded for all its test files: five times as fast. It is safe because
    // nothing in a module remembers one test for the next (core is pure, and test/imports/state.test.ts
    // holds it to that); no test replaces a module or a global without putting it back.
    isolate: false,
    pool: 'threads',
    // On two cores it would take one thread.
    maxWorkers: Math.max(2, availableParallelism() - 1),
  },
});
