import { build } from 'esbuild';
import { type Browser, chromium } from 'playwright';
import { findChromium } from '../browser.ts';

/** A script of this folder and all it needs, as one text that a page can run. */
export const bundled = async (entry: string): Promise<string> => {
  const bundle = await build({
    entryPoints: [entry],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'chrome120',
  });
  return bundle.outputFiles[0]?.text ?? '';
};

/** Opens Chromium for `act`, says which, and closes it. Rejects when there is none. @param more for its command line */
export const inChromium = async (
  act: (browser: Browser) => Promise<void>,
  more: readonly string[] = [],
): Promise<void> => {
  const executablePath = findChromium();
  if (executablePath === undefined) throw new Error('no Chromium found; MALLETLOOM_CHROMIUM may name one.');
  const browser = await chromium.launch({
    executablePath,
    args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required', ...more],
  });
  try {
    console.log(`  Chromium ${browser.version()}, headless.`);
    await act(browser);
  } finally {
    await browser.close();
  }
};
