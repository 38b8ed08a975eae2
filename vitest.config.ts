import { defineConfig } from 'vitest/config';

export default defineConfig({
  define: { __CHECK_INDICES__: 'true' },
  test: { include: ['test/**/*.test.ts', 'test/**/*.test.tsx'], testTimeout: 30_000, environment: 'node' },
});
