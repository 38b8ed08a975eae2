import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/**
 * The import rule, held by dependency-cruiser; and two proofs that it can fail: a fixture with an
 * upward type import must be rejected, and a run that saw no modules is a failure.
 */
const project = fileURLToPath(new URL('../..', import.meta.url));
const config = `${project}.dependency-cruiser.cjs`;

interface Report {
  readonly summary: {
    readonly totalCruised: number;
    readonly violations: readonly {
      readonly rule: { readonly name: string };
      readonly from: string;
      readonly to: string;
    }[];
  };
}

const cruise = (cwd: string, folders: readonly string[]): Report => {
  const done = spawnSync(
    process.execPath,
    [
      `${project}node_modules/dependency-cruiser/bin/dependency-cruise.mjs`,
      '--config',
      config,
      '--output-type',
      'json',
      ...folders,
    ],
    { cwd, encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  if (!done.stdout.startsWith('{')) throw new Error(`dependency-cruiser said: ${done.stderr}${done.stdout}`);
  return JSON.parse(done.stdout) as Report;
};

const fixture = cruise(`${project}test/imports/fixture`, ['core']);
if (!fixture.summary.violations.some(v => v.from === 'core/foundation/upward.ts')) {
  console.error('The import rule let an upward type import pass: the rule is not working.');
  process.exit(1);
}
if (!fixture.summary.violations.some(v => v.from === 'core/reading/rhythm/upwardRoom.ts')) {
  console.error(
    'The import rule let a room of the reader import from one above it: the rule is not working.',
  );
  process.exit(1);
}
const real = cruise(project, ['core', 'renderer', 'electron']);
if (real.summary.totalCruised < 100) {
  console.error(
    `Only ${String(real.summary.totalCruised)} modules were seen: the import rule saw too little to mean anything.`,
  );
  process.exit(1);
}
for (const { rule, from, to } of real.summary.violations) console.error(`${rule.name}: ${from} -> ${to}`);
if (real.summary.violations.length > 0) process.exit(1);
console.log(
  `import rule: ${String(real.summary.totalCruised)} modules, none imports upward; the fixture was rejected.`,
);
