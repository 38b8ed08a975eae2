import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { runInThisContext } from 'node:vm';
import { build } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import { sourcesOf } from '../imports/sources.ts';
import { functionsOf, valuesOf } from './collect.ts';

// Every @example of core is compiled and run. Each line `expression // => value` is one check; lines before
// it may set something up. All that core exports is in scope, for no name of it has two meanings.

const sources = sourcesOf('core').filter(({ file }) => !file.endsWith('.d.ts'));
const functions = sources.flatMap(({ file, text }) => functionsOf(file, text));
const examples = functions.flatMap(f =>
  f.examples.map((code, i) => ({ ...f, code, label: `${f.file}: ${f.name} ${String(i + 1)}` })),
);

/** The example as statements that hand each pair to `same`. */
const checked = (code: string): string =>
  code
    .split('\n')
    .map(line => {
      const [, expression, value] = /^(.*?);?\s*\/\/ => (.*)$/.exec(line) ?? [];
      return expression === undefined || value === undefined ? line : `same((${expression}), (${value}));`;
    })
    .join('\n');

type Checks = Readonly<Record<string, (same: (found: unknown, wanted: unknown) => void) => Promise<void>>>;
let checks: Checks = {};

beforeAll(async () => {
  const imports = sources
    .map(({ file, text }) => ({ file, values: valuesOf(file, text) }))
    .filter(({ values }) => values.length > 0)
    .map(({ file, values }) => `import { ${values.join(', ')} } from './${file}';`);
  const bodies = examples.map(e => `${JSON.stringify(e.label)}: async (same) => {\n${checked(e.code)}\n},`);
  const made = await build({
    stdin: {
      contents: `${imports.join('\n')}\nexport const checks = {\n${bodies.join('\n')}\n};`,
      resolveDir: fileURLToPath(new URL('../..', import.meta.url)),
      loader: 'ts',
    },
    bundle: true,
    format: 'cjs',
    platform: 'node',
    define: { __CHECK_INDICES__: 'true' },
    write: false,
    logLevel: 'error',
  });
  const module = { exports: {} as { checks?: Checks } };
  const run = runInThisContext(`(module, exports, require) => { ${made.outputFiles[0]?.text ?? ''} }`) as (
    ...given: readonly unknown[]
  ) => void;
  run(module, module.exports, createRequire(import.meta.url));
  checks = module.exports.checks ?? {};
});

describe('the examples of core', () => {
  it.each(examples.map(e => e.label))('%s comes true', async label => {
    let compared = 0;
    await checks[label]?.((found, wanted) => {
      compared += 1;
      expect(found).toEqual(wanted);
    });
    expect(compared, 'an example says `expression // => value`').toBeGreaterThan(0);
  });
});
