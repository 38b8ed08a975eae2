import { expect, test } from 'vitest';
import { sourcesOf } from './sources.ts';

/**
 * What a module of core may keep between calls: tables filled once and never otherwise, and what is known
 * of an object, by the object itself. Neither changes an answer.
 */
const KEPT = /^(?:export )?const \w+ = new WeakMap\b/;
/** Tables by a key that says everything they depend on. */
const TABLES = [
  'core/reading/rhythm/prior.ts: const tables = new Map<string, Float64Array>();',
  'core/reading/search/moveGraph.ts: const spellings = new Map<Division, Uint8Array>();',
];

test('a module of core remembers nothing: no variable, and no container that could be filled', () => {
  const sources = sourcesOf('core');
  expect(sources.length).toBeGreaterThan(100);
  const remembering = sources.flatMap(({ file, text }) =>
    text
      .split('\n')
      .filter(line =>
        /^(?:export )?(?:let|var) |^(?:export )?const \w+(?:: [^=]+)? = (?:new (?:Map|Set|WeakSet|Array)\b[^(]*\(\)|\[\];|\{\};)/.test(
          line,
        ),
      )
      .filter(line => !KEPT.test(line))
      // Nobody can fill what is typed readonly.
      .filter(line => !/: readonly [^=]+ = \[\];$/.test(line))
      .map(line => `${file}: ${line}`)
      .filter(line => !TABLES.includes(line)),
  );
  expect(remembering).toEqual([]);
});
