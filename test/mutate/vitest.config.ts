import { defineConfig, type Plugin } from 'vitest/config';
import base from '../../vitest.config.ts';

// What a mutant of core can be noticed by: everything that needs no browser, no build and no disk, but the
// few files that take most of the time. Leaving a test out can only let more mutants live, never fewer.

const folder = process.env['MALLETLOOM_MUTANT_FOLDER'] ?? '';
/** Tests that were asked for; empty for those that the folder can be noticed by. */
const tests = process.env['MALLETLOOM_MUTANT_TESTS'] ?? '';

const OUTSIDE = [
  'test/electron/**',
  // It reads the sources, and those of a mutation run are rewritten.
  'test/examples/documented.test.ts',
  'test/imports/**',
  'test/input/**',
  'test/pdf/**',
  'test/mutate/**',
  'test/torture/**',
  'test/library/browserStorage.test.ts',
];

/** Slow files, and the folders whose mutants they are worth their time for. */
const SLOW: readonly (readonly [test: string, ...folders: string[]])[] = [
  ['test/laws/corrections.test.ts', 'core/piece'],
  ['test/gallery/roundTrip.test.ts'],
  ['test/playable/laws.test.ts', 'core/playable'],
  ['test/playback/renderStroke.test.ts', 'core/playback'],
  ['test/score/longSpan.test.ts'],
  ['test/piece/rereading.test.ts', 'core/piece'],
  ['test/entries/**', 'core/entries'],
  ['test/desk/**', 'renderer/desk'],
  ['test/reading/quality.test.ts'],
  ['test/reading/freeBeat/held.test.ts'],
  ['test/reading/**', 'core/reading'],
  ['test/laws/reading*.test.ts'],
];

/**
 * The examples of core are bundled while they run, so nothing says which files they come from; here it is
 * said, or no mutant would count as one they can notice.
 */
const examplesOfCore: Plugin = {
  name: 'examples-of-core',
  enforce: 'pre',
  transform: (code, id) =>
    id.endsWith('/examples.test.ts') && id.includes('/test/examples/')
      ? `${code}\nimport.meta.glob('../../core/**/*.ts');`
      : undefined,
};

export default defineConfig({
  plugins: [examplesOfCore],
  ...(base.define === undefined ? {} : { define: base.define }),
  test: {
    ...base.test,
    // Mutants run while a machine is busy with other things, and every line counts as it goes.
    testTimeout: 240_000,
    // Nearly every test reads a take; the reader's own are enough, and its laws would take minutes each time.
    include:
      tests !== ''
        ? [tests]
        : folder.startsWith('core/reading')
          ? ['test/{reading,takes,examples}/**/*.test.ts']
          : ['test/**/*.test.ts'],
    exclude: [
      ...OUTSIDE,
      ...SLOW.filter(([, ...folders]) => !folders.some(f => folder.startsWith(f))).map(([test]) => test),
    ],
  },
});
