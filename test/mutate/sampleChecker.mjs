import { createHash } from 'node:crypto';
import { declareFactoryPlugin, PluginKind } from '@stryker-mutator/api/plugin';

// Stryker has no way to try only some mutants. A checker may turn mutants away before any test runs, so
// this one turns away all but a seeded sample; run.ts leaves them out of its table.

const sample = Number(process.env['MALLETLOOM_MUTANTS'] ?? 0);
const seed = process.env['MALLETLOOM_SEED'] ?? '1';

/** Where a mutant comes in the draw: by its place and what it says, never by its number. */
const draw = mutant =>
  createHash('sha256')
    .update(
      JSON.stringify([
        seed,
        mutant.fileName.replace(/^.*\/(?=core\/|renderer\/|electron\/)/, ''),
        mutant.location,
        mutant.replacement,
      ]),
    )
    .digest('hex');

const createChecker = () => {
  let chosen = new Set();
  return {
    init: () => Promise.resolve(),
    group: mutants => {
      const drawn = mutants.map(m => [draw(m), m.id]).sort(([a], [b]) => (a < b ? -1 : 1));
      chosen = new Set(drawn.slice(0, sample).map(([, id]) => id));
      return Promise.resolve([mutants.map(m => m.id)]);
    },
    check: mutants =>
      Promise.resolve(
        Object.fromEntries(
          mutants.map(m => [
            m.id,
            chosen.has(m.id) ? { status: 'passed' } : { status: 'compileError', reason: 'not in the sample' },
          ]),
        ),
      ),
  };
};

export const strykerPlugins = [declareFactoryPlugin(PluginKind.Checker, 'sample', createChecker)];
