import { defineConfig } from 'playwright/test';
import { findChromium } from './test/browser.ts';

const executablePath = findChromium();

export default defineConfig({
  testDir: 'test/e2e',
  testMatch: '*.spec.ts',
  snapshotPathTemplate: 'test/gallery/golden/{arg}{ext}',
  timeout: 60_000,
  workers: 1,
  // A test that needs a second try is a test to mend.
  retries: 0,
  reporter: [['list']],
  use: {
    viewport: { width: 1366, height: 768 },
    locale: 'en-GB',
    launchOptions: {
      ...(executablePath === undefined ? {} : { executablePath }),
      args: [
        '--no-sandbox',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
        '--autoplay-policy=no-user-gesture-required',
      ],
    },
  },
});
