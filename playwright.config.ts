import { defineConfig } from 'playwright/test';
import type { Host } from './test/e2e/app.ts';
import { findChromium, findQuickChromium } from './test/browser.ts';

const launchOptions = (executablePath: string | undefined) => ({
  ...(executablePath === undefined ? {} : { executablePath }),
  args: [
    '--no-sandbox',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
    '--no-first-run',
    '--autoplay-policy=no-user-gesture-required',
  ],
});

const TIMED = /(sound|soundLive|playing|input|journey|rehearsing)\.spec\.ts$/;
/** The job from end to end, by `npm test`: a class of thirty, a page corrected, a piece grown, a pupil alone. */
const MAIN = /(lesson|writing|growing|storyboard)\.spec\.ts$/;
/** The same journeys in the desktop edition: its main process and bridge, and a folder on the disk. */
const IN_BOTH =
  /(writing|growing|storyboard|write|grow|register|evidence|phrases|onceMore|playable|keyCaps|pupil|projector|follow|frame|help|out|corrections)\.spec\.ts$/;
/** A few of them, in every CI run. */
const IN_BOTH_DAILY = /(storyboard|growing|register|evidence)\.spec\.ts$/;
const PICTURES = /gallery\.spec\.ts$/;

export default defineConfig<object, { host: Host }>({
  testDir: 'test/e2e',
  testMatch: '*.spec.ts',
  snapshotPathTemplate: 'test/gallery/golden/{arg}{ext}',
  timeout: 60_000,
  // Two at a time, but what listens to real time (the sound, the devices) alone: `npm run test:all` runs it after
  // the rest, for another browser beside it would spoil its timing.
  workers: 2,
  projects: [
    { name: 'journeys', testIgnore: [TIMED, PICTURES] },
    { name: 'pictures', testMatch: PICTURES, use: { launchOptions: launchOptions(findChromium()) } },
    { name: 'main', testMatch: MAIN },
    { name: 'desktop', testMatch: IN_BOTH_DAILY, use: { host: 'desktop' } },
    { name: 'desktopWhole', testMatch: IN_BOTH, use: { host: 'desktop' } },
    // The same in Electron itself; where it is not installed each says that it was not run.
    { name: 'electron', testMatch: IN_BOTH, workers: 1, use: { host: 'electron' } },
    { name: 'timed', testMatch: TIMED, workers: 1 },
  ],
  // The bundled main process is run as it is.
  build: { external: ['**/dist/**'] },
  // A test that needs a second try is a test to mend.
  retries: 0,
  reporter: [['list']],
  use: {
    viewport: { width: 1366, height: 768 },
    locale: 'en-GB',
    // What keeps the app's files would fetch them all again in every test; offline.spec.ts allows it.
    serviceWorkers: 'block',
    launchOptions: launchOptions(findQuickChromium()),
  },
});
