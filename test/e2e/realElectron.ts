import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { _electron, expect, type Page } from 'playwright/test';
import { buildElectron } from '../../electron/cli/build.ts';
import { installedRuntime } from '../../electron/cli/findRuntime.ts';
import { whyNotReal } from '../electron/desktop/whyNotReal.ts';
import { installFakeWebMidi } from '../fakes/webMidi.ts';

const project = fileURLToPath(new URL('../..', import.meta.url));

/** Why the journeys do not run in the real desktop edition here; undefined where they do. */
export const whyNotHere = (): string | undefined => {
  const why = whyNotReal(project);
  return why === undefined ? undefined : `Not run in the real desktop edition, because ${why}.`;
};

/**
 * Lends the window of the real desktop edition, with settings and a class library of its own, for as long as `use`
 * takes. Electron must be installed (`whyNotHere`).
 * @param prepare what the page does before anything of the app
 */
export const withRealElectron = async (
  { viewport, prepare }: { viewport: { width: number; height: number } | null; prepare: () => void },
  watch: (page: Page) => void,
  use: (page: Page) => Promise<void>,
): Promise<void> => {
  await buildElectron(project);
  const root = mkdtempSync(join(tmpdir(), 'malletloom-real-'));
  const [settings, libraryFolder] = [join(root, 'settings'), join(root, 'library')];
  for (const folder of [settings, libraryFolder]) mkdirSync(folder);
  // Not among the documents of whoever runs the tests.
  writeFileSync(join(settings, 'place.json'), JSON.stringify({ libraryFolder }));
  const app = await _electron.launch({
    executablePath: installedRuntime(project) ?? '',
    args: [project, `--user-data-dir=${settings}`, ...(process.getuid?.() === 0 ? ['--no-sandbox'] : [])],
  });
  try {
    // What is saved goes beside the library; a dialogue would wait for a person.
    await app.evaluate(({ session }, folder) => {
      session.defaultSession.on('will-download', (_, item) => {
        item.setSavePath(`${folder}/${item.getFilename()}`);
      });
    }, root);
    const page = await app.firstWindow();
    watch(page);
    await page.addInitScript(installFakeWebMidi as () => void);
    await page.addInitScript(prepare);
    if (viewport !== null) await page.setViewportSize(viewport);
    await page.reload();
    await expect(page.getByRole('navigation', { name: 'Places' })).toBeVisible();
    await use(page);
  } finally {
    await app.close();
    rmSync(root, { recursive: true, force: true });
  }
};
