import { join } from 'node:path';
import { BrowserWindow } from 'electron';
import { SAFE_PREFERENCES } from './security.ts';
import { LEAST_HEIGHT, LEAST_WIDTH, type WindowPlace, writeWindowPlace } from './windowPlace.ts';

/**
 * The one window of the app, still empty, where it was left; it remembers its place when it is closed.
 * @param bundled folder of the bundled preload
 * @param placeFile where the place of the window is remembered
 */
export const createWindow = (bundled: string, place: WindowPlace, placeFile: string): BrowserWindow => {
  const { isMaximized, ...bounds } = place;
  const window = new BrowserWindow({
    ...bounds,
    minWidth: LEAST_WIDTH,
    minHeight: LEAST_HEIGHT,
    autoHideMenuBar: true,
    webPreferences: { ...SAFE_PREFERENCES, preload: join(bundled, 'preload.cjs') },
  });
  if (isMaximized) window.maximize();
  window.on('close', () => {
    // The bounds it goes back to, not those of the screen it may fill.
    writeWindowPlace(placeFile, { ...window.getNormalBounds(), isMaximized: window.isMaximized() });
  });
  return window;
};
