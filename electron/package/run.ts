import { mkdirSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build, Platform } from 'electron-builder';
import { detailOf } from '../../core/foundation/result.ts';
import { buildElectron, buildRenderer } from '../cli/build.ts';
import { findRuntime } from '../cli/findRuntime.ts';
import { checkPackaging } from './checkPackaging.ts';
import { layOutStandIn } from './standInRuntime.ts';
import { packaging } from './packaging.ts';

// `npm run package`: what a school installs, as far as this machine can make it.

const project = fileURLToPath(new URL('../..', import.meta.url));
const output = join(project, packaging.directories.output);

const inMB = (bytes: number): string => `${(bytes / 1e6).toFixed(1)} MB`;

/** Every file that was made, with its size. */
const tell = (folder: string): void => {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter(entry => entry.isFile());
  for (const entry of files) {
    const path = join(entry.parentPath, entry.name);
    console.log(`${inMB(statSync(path).size).padStart(10)}  ${relative(project, path)}`);
  }
};

const main = async (): Promise<void> => {
  const wrong = await checkPackaging(packaging);
  if (wrong !== undefined) throw new Error(wrong);
  console.log('The configuration holds for Windows, macOS and Linux.');
  await buildRenderer(project);
  await buildElectron(project);
  rmSync(output, { recursive: true, force: true });
  const runtime = await findRuntime(project);
  if ('missing' in runtime) {
    const standIn = join(output, 'standIn');
    mkdirSync(standIn, { recursive: true });
    layOutStandIn(standIn);
    console.log(
      `${runtime.missing}, so no installer can be made here. What would go into one, around an empty program:`,
    );
    await build({
      projectDir: project,
      targets: Platform.LINUX.createTarget('dir'),
      config: { ...packaging, electronDist: standIn },
    });
    rmSync(standIn, { recursive: true });
    tell(output);
    return;
  }
  await build({ projectDir: project, targets: Platform.current().createTarget(), config: packaging });
  for (const entry of readdirSync(output, { withFileTypes: true }))
    if (entry.isFile())
      console.log(`${inMB(statSync(join(output, entry.name)).size).padStart(10)}  ${entry.name}`);
};

await main().catch((thrown: unknown) => {
  console.error(`Nothing was packaged: ${detailOf(thrown)}`);
  process.exitCode = 1;
});
