import { spawnSync } from 'node:child_process';
import { findChromium } from './browser.ts';

/** `npm test`: units and laws, then the journeys in a real browser. Nothing is skipped silently. */
const run = (name: string, args: readonly string[]): void => {
  const done = spawnSync('npx', [name, ...args], { stdio: 'inherit', shell: process.platform === 'win32' });
  if (done.status !== 0) process.exit(done.status ?? 1);
};

if (findChromium() === undefined) {
  console.error(
    'The end-to-end tests need Chromium or Chrome and found none. On Debian: apt-get install chromium; elsewhere set MALLETLOOM_CHROMIUM to the program.',
  );
  process.exit(1);
}
run('vitest', ['run']);
run('vite', ['build', '--logLevel', 'warn']);
run('playwright', ['test', '--project=journeys', '--project=pictures']);
run('playwright', ['test', '--project=timed']);
