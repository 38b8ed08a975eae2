import { existsSync } from 'node:fs';

/** Where a Chromium may be; MALLETLOOM_CHROMIUM names another. */
const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:/Program Files/Google/Chrome/Application/chrome.exe',
  'C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe',
];

/** The browser that end-to-end tests drive; undefined when there is none. */
export const findChromium = (): string | undefined =>
  [process.env['MALLETLOOM_CHROMIUM'], ...PLACES].find(path => path !== undefined && existsSync(path));
