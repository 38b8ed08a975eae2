import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { findChromium } from './browser.ts';
import { whyNotHere } from './e2e/realElectron.ts';
import { getBrowser, NO_BROWSER } from './getBrowser.ts';

/**
 * `npm test`: units and laws, then the main journeys in a real browser, in under five minutes on two cores.
 * `npm run test:all`: units and every journey, picture and measurement, as CI runs them.
 */
const isAll = process.argv.includes('--all');

const succeeds = (program: string, args: readonly string[]): boolean =>
  spawnSync(program, args, { stdio: 'inherit', shell: process.platform === 'win32' }).status === 0;
const run = (name: string, args: readonly string[]): void => {
  if (!succeeds('npx', [name, ...args])) process.exit(1);
};

const browser = getBrowser({
  find: findChromium,
  run: succeeds,
  env: process.env,
  isRoot: process.getuid?.() === 0,
  hasApt: existsSync('/usr/bin/apt-get'),
  say: line => {
    console.log(line);
  },
});
if (browser === undefined) {
  console.error(NO_BROWSER);
  process.exit(1);
}
run('vitest', ['run']);
run('vite', ['build', '--logLevel', 'warn']);
if (isAll) {
  run('playwright', ['test', '--project=journeys', '--project=pictures', '--project=desktop']);
  run('playwright', ['test', '--project=timed']);
  const why = whyNotHere();
  if (why === undefined) run('playwright', ['test', '--project=electron']);
  else console.log(why);
} else {
  run('playwright', ['test', '--project=main']);
  console.log('These were the units and the main journeys; npm run test:all runs every journey, as CI does.');
}
