import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

/**
 * The import rule, held by dependency-cruiser; and the proofs that it can fail: every file of the fixture
 * makes one mistake that must be refused, and a run that saw too few modules is a failure.
 */
const project = fileURLToPath(new URL('../..', import.meta.url));
const config = `${project}.dependency-cruiser.cjs`;

interface Report {
  readonly modules: readonly { readonly source: string }[];
  readonly summary: {
    readonly totalCruised: number;
    readonly violations: readonly {
      readonly rule: { readonly name: string };
      readonly from: string;
      readonly to: string;
    }[];
  };
}

const cruise = (cwd: string): Report => {
  const done = spawnSync(
    process.execPath,
    [
      `${project}node_modules/dependency-cruiser/bin/dependency-cruise.mjs`,
      '--config',
      config,
      '--output-type',
      'json',
      'core',
      'renderer',
      'electron',
    ],
    { cwd, encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  if (!done.stdout.startsWith('{')) throw new Error(`dependency-cruiser said: ${done.stderr}${done.stdout}`);
  return JSON.parse(done.stdout) as Report;
};

const { allowed } = createRequire(import.meta.url)(config) as {
  allowed: readonly { readonly from: { readonly path: string } }[];
};
const named = allowed.filter(rule => !['node_modules', '^electron/'].includes(rule.from.path));

/** What a report finds wrong: imports that are not allowed, and files in folders the rule does not know. */
const mistakes = ({
  modules,
  summary,
}: Report): readonly { readonly file: string; readonly what: string }[] => [
  ...summary.violations.map(v => ({ file: v.from, what: `${v.rule.name}: ${v.from} -> ${v.to}` })),
  ...modules
    .map(m => m.source)
    .filter(source => /^(core|renderer|electron)[/]/.test(source) && !source.startsWith('renderer/styles/'))
    .filter(source => !named.some(rule => new RegExp(rule.from.path).test(source)))
    .map(source => ({ file: source, what: `unknown folder: ${source}` })),
];

/** Each makes the mistake its name says. */
const REFUSED = [
  'core/foundation/upward.ts',
  'core/foundation/readsDisk.ts',
  'core/extra/readsDisk.ts',
  'core/extra/alone.ts',
  'core/reading/rhythm/seesSearch.ts',
  'core/reading/rhythm/upwardRoom.ts',
  'core/score/draws.ts',
  'renderer/page/seesDesk.ts',
  'renderer/storage/seesViews.ts',
  'renderer/pdf/seesSound.ts',
  'renderer/desk/seesViews.ts',
  'renderer/extra/alone.ts',
  'renderer/views/seesDesktop.ts',
  'electron/loopback/seesRenderer.ts',
  'electron/extra/alone.ts',
];
const found = new Set(mistakes(cruise(`${project}test/imports/fixture`)).map(m => m.file));
const passed = REFUSED.filter(file => !found.has(file));
if (passed.length > 0) {
  console.error(`The import rule let these mistakes pass: ${passed.join(', ')}. It is not working.`);
  process.exit(1);
}
const real = cruise(project);
if (real.summary.totalCruised < 100) {
  console.error(
    `Only ${String(real.summary.totalCruised)} modules were seen: the import rule saw too little to mean anything.`,
  );
  process.exit(1);
}
const wrong = mistakes(real);
for (const { what } of wrong) console.error(what);
if (wrong.length > 0) process.exit(1);
console.log(
  `import rule: ${String(real.summary.totalCruised)} modules, none imports what it may not; ${String(REFUSED.length)} fixtures were refused.`,
);
