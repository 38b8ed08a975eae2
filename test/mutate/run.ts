import { readFileSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Stryker } from '@stryker-mutator/core';

// npm run mutate -- core/score --sample 150 --seed 1
// Changes the code of one folder in one small way at a time, and counts how many changes the unit tests
// notice. Not part of npm test: it takes minutes. With --tests 'test/reading/golden/*' it counts what these notice.

const project = fileURLToPath(new URL('../..', import.meta.url));

const option = (name: string, usual: string): string => {
  const at = process.argv.indexOf(name);
  return at < 0 ? usual : (process.argv[at + 1] ?? usual);
};

interface Report {
  readonly files: Readonly<
    Record<
      string,
      {
        readonly source: string;
        readonly mutants: readonly {
          readonly status: string;
          readonly mutatorName: string;
          readonly replacement?: string;
          readonly location: {
            readonly start: { readonly line: number };
            readonly end: { readonly line: number };
          };
        }[];
      }
    >
  >;
}

const folder = process.argv[2];
if (folder === undefined || folder.startsWith('--')) {
  console.error('Which folder? For example: npm run mutate -- core/score --sample 150 --seed 1');
  process.exit(1);
}
process.chdir(project);
process.env['MALLETLOOM_MUTANTS'] = option('--sample', '100000');
process.env['MALLETLOOM_SEED'] = option('--seed', '1');
process.env['MALLETLOOM_MUTANT_FOLDER'] = folder;
process.env['MALLETLOOM_MUTANT_TESTS'] = option('--tests', '');
process.env['MALLETLOOM_SHARED'] ??= fileURLToPath(new URL('../../../shared', import.meta.url));

const report = `dist/mutants/${folder.replaceAll('/', '-')}.json`;
await new Stryker({
  testRunner: 'vitest',
  vitest: { configFile: 'test/mutate/vitest.config.ts' },
  plugins: ['@stryker-mutator/vitest-runner', './test/mutate/sampleChecker.mjs'],
  checkers: ['sample'],
  mutate: [folder.endsWith('.ts') ? folder : `${folder}/**/*.ts`],
  // Two cores, and timings that other work on them would spoil.
  concurrency: 1,
  coverageAnalysis: 'perTest',
  // A busy machine must not pass for a mutant that loops for ever.
  timeoutMS: 15_000,
  dryRunTimeoutMinutes: 30,
  // What runs once, when a module is loaded, would need every test for every mutant.
  ignoreStatic: true,
  reporters: ['json'],
  jsonReporter: { fileName: report },
  ignorePatterns: ['dist', 'test-results', 'test/pictures', 'test/gallery/golden'],
  tempDirName: '.mutants',
  // An ambient enum: its value can only be written out.
  logLevel: 'warn' as never,
  allowConsoleColors: false,
}).runMutationTest();

const { files } = JSON.parse(readFileSync(report, 'utf8')) as Report;
const counted = (mutants: Report['files'][string]['mutants'], ...statuses: string[]): number =>
  mutants.filter(m => statuses.includes(m.status)).length;
let killed = 0;
let survived = 0;
let timedOut = 0;
console.log('killed survived  file');
for (const [name, { mutants, source }] of Object.entries(files).sort(([a], [b]) => a.localeCompare(b))) {
  const dead = counted(mutants, 'Killed', 'Timeout', 'RuntimeError');
  const alive = counted(mutants, 'Survived', 'NoCoverage');
  if (dead + alive === 0) continue;
  killed += dead;
  timedOut += counted(mutants, 'Timeout');
  survived += alive;
  console.log(`${String(dead).padStart(6)} ${String(alive).padStart(8)}  ${name}`);
  for (const m of mutants.filter(one => ['Survived', 'NoCoverage'].includes(one.status))) {
    const line = source.split('\n')[m.location.start.line - 1]?.trim() ?? '';
    console.log(
      `                   ${String(m.location.start.line)}: ${line.slice(0, 90)}  ->  ${(m.replacement ?? '').slice(0, 60).replaceAll('\n', ' ')}`,
    );
  }
}
const all = killed + survived;
console.log(
  `${folder}: ${String(killed)} of ${String(all)} killed (${String(timedOut)} by never ending), ${((100 * killed) / Math.max(1, all)).toFixed(1)} %`,
);
rmSync('.mutants', { recursive: true, force: true });
if (all === 0) process.exitCode = 1;
