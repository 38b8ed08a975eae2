import { existsSync } from 'node:fs';
import { defineConfig } from 'playwright/test';

const found = [process.env['MALLETLOOM_CHROMIUM'], '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(
  path => path !== undefined && existsSync(path),
);

export default defineConfig({
  testDir: 'test/e2e',
  testMatch: '*.spec.ts',
  timeout: 60_000,
  workers: 1,
  retries: 0,
  reporter: [['list']],
  use: {
    viewport: { width: 1366, height: 768 },
    locale: 'en-GB',
    launchOptions: {
      ...(found === undefined ? {} : { executablePath: found }),
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
