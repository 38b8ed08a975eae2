import { defineConfig } from 'playwright/test';
import { findChromium } from './test/browser.ts';

const executablePath = findChromium();

export default defineConfig({
  testDir: 'test/e2e',
  testMatch: '*.spec.ts',
  snapshotPathTemplate: 'test/gallery/golden/{arg}{ext}',
  timeout: 60_000,
  workers: 1,
  // Takes struck live keep real time, which a busy CI machine may not; what needs a second try is listed as flaky.
  retries: process.env['CI'] === undefined ? 0 : 1,
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
