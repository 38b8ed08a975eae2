import { existsSync } from 'node:fs';
import { chromium } from 'playwright';

/** Where a Chromium may be. */
const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:/Program Files/Google/Chrome/Application/chrome.exe',
  'C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe',
];

/** Debian's Chromium without a desktop's window system: the same engine, on two cores nearly twice as fast. */
const WINDOWLESS = ['/usr/bin/chromium-headless-shell'];

const firstOf = (places: readonly (string | undefined)[]): string | undefined =>
  places.find(path => path !== undefined && existsSync(path));

/** The one that `playwright install chromium` put into this user's cache. */
const downloaded = (): string => chromium.executablePath();

/** MALLETLOOM_CHROMIUM names a browser that is taken before any other. */
const named = (): string | undefined => process.env['MALLETLOOM_CHROMIUM'];

/**
 * A whole browser, whose pictures are the golden ones: text is set differently without a window system.
 * The windowless one where there is no other; undefined when there is none at all.
 */
export const findChromium = (): string | undefined =>
  firstOf([named(), ...PLACES, ...WINDOWLESS, downloaded()]);

/** The browser that journeys drive: the windowless one where there is one. */
export const findQuickChromium = (): string | undefined =>
  firstOf([named(), ...WINDOWLESS, ...PLACES, downloaded()]);

/** A Firefox as it is installed; MALLETLOOM_FIREFOX names one that is taken before any other. */
export const findFirefox = (): string | undefined =>
  firstOf([
    process.env['MALLETLOOM_FIREFOX'],
    '/usr/bin/firefox-esr',
    '/usr/bin/firefox',
    '/Applications/Firefox.app/Contents/MacOS/firefox',
    'C:/Program Files/Mozilla Firefox/firefox.exe',
  ]);
