import { join } from 'node:path';
import { BrowserWindow } from 'electron';
import { SAFE_PREFERENCES } from './security.ts';

/** The one window of the app, still empty. @param bundled folder of the bundled preload */
export const createWindow = (bundled: string): BrowserWindow => {
  return new BrowserWindow({
    width: 1366,
    height: 860,
    minWidth: 900,
    minHeight: 600,
    autoHideMenuBar: true,
    webPreferences: { ...SAFE_PREFERENCES, preload: join(bundled, 'preload.cjs') },
  });
};
