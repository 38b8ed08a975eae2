import { existsSync } from 'node:fs';
import { join } from 'node:path';

/** What is looked at to find a browser; handed in so that tests can be another computer. */
export interface Surroundings {
  readonly platform: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly exists: (path: string) => boolean;
}

const here: Surroundings = { platform: process.platform, env: process.env, exists: existsSync };

const UNIX_NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
];
const MAC_NAMES = ['Google Chrome', 'Microsoft Edge', 'Chromium'];
const WINDOWS_PATHS = ['Google/Chrome/Application/chrome.exe', 'Microsoft/Edge/Application/msedge.exe'];

const candidates = ({ platform, env }: Surroundings): readonly string[] => {
  if (platform === 'darwin') return MAC_NAMES.map(name => `/Applications/${name}.app/Contents/MacOS/${name}`);
  if (platform === 'win32') {
    const roots = [env['ProgramFiles'], env['ProgramFiles(x86)'], env['LOCALAPPDATA']];
    return roots.flatMap(root => (root === undefined ? [] : WINDOWS_PATHS.map(path => join(root, path))));
  }
  const folders = (env['PATH'] ?? '').split(':').filter(folder => folder !== '');
  return UNIX_NAMES.flatMap(name => folders.map(folder => join(folder, name)));
};

/** Whether there is a screen to open a window on. */
export const hasDisplay = ({ platform, env }: Surroundings = here): boolean =>
  platform === 'darwin' || platform === 'win32' || Boolean(env['DISPLAY']) || Boolean(env['WAYLAND_DISPLAY']);

/**
 * A browser with Web MIDI and an app window, when one is installed. MALLETLOOM_CHROMIUM names
 * another one.
 */
export const findBrowser = (where: Surroundings = here): string | undefined =>
  [where.env['MALLETLOOM_CHROMIUM'] ?? '', ...candidates(where)].find(
    path => path !== '' && where.exists(path),
  );
