import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

// Points 6, 8 to 12, 15, 18 and 20 of Electron's security checklist (electronjs.org, 'Security'): what is never used
// cannot be used wrongly.
it.each([
  [6, /webSecurity:\s*false/],
  [8, /allowRunningInsecureContent/],
  [9, /experimentalFeatures/],
  [10, /enableBlinkFeatures/],
  [11, /allowpopups|webviewTag/i],
  [15, /openExternal|openPath/],
  [18, /file:\/\/|loadFile/],
  [20, /exposeInMainWorld\([^)]*ipcRenderer/],
])('point %i of the checklist: the desktop edition has no %s', (_, what) => {
  const folder = fileURLToPath(new URL('../../../electron/desktop', import.meta.url));
  const files = readdirSync(folder).filter(name => name.endsWith('.ts'));
  expect(files).toContain('security.ts');
  for (const name of files) expect(readFileSync(`${folder}/${name}`, 'utf8'), name).not.toMatch(what);
});
