import { defineConfig } from 'vitest/config';
import base from '../../vitest.config.ts';

// What a mutant of core can be noticed by: everything that needs no browser, no build and no disk.
export default defineConfig({
  ...(base.define === undefined ? {} : { define: base.define }),
  test: {
    ...base.test,
    include: ['test/**/*.test.ts'],
    exclude: [
      'test/electron/**',
      'test/imports/**',
      'test/input/**',
      'test/pdf/**',
      'test/store/**',
      'test/mutate/**',
      'test/library/browserStorage.test.ts',
      ...(process.env['MALLETLOOM_MUTANT_FOLDER']?.includes('reading') === true
        ? []
        : ['test/reading/**', 'test/laws/reading*.test.ts']),
    ],
  },
});
