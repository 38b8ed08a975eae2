import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Where the fuses lie in Electron's program: behind this mark (electron/fuses, README; from memory). */
const SENTINEL = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX';
/** How many fuses the program has, and how one that is off, on, or gone is written. */
const FUSES = 8;

/**
 * The shape of Electron's folder without Electron: an empty program that has fuses. What is put around it and into
 * it is the real thing; it cannot run.
 */
export const layOutStandIn = (folder: string): void => {
  mkdirSync(join(folder, 'resources'), { recursive: true });
  mkdirSync(join(folder, 'locales'), { recursive: true });
  const wire = Buffer.concat([
    Buffer.alloc(64),
    Buffer.from(SENTINEL, 'ascii'),
    Buffer.from([1, FUSES]),
    Buffer.from('1'.repeat(FUSES), 'ascii'),
    Buffer.alloc(64),
  ]);
  writeFileSync(join(folder, 'electron'), wire, { mode: 0o755 });
  writeFileSync(join(folder, 'chrome-sandbox'), '', { mode: 0o755 });
  writeFileSync(join(folder, 'version'), '0.0.0');
  writeFileSync(join(folder, 'LICENSE'), '');
  writeFileSync(join(folder, 'LICENSES.chromium.html'), '');
};
