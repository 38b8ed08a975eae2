import { rmSync } from 'node:fs';
import { expect, test as base } from 'playwright/test';
import { bundleDesktop, type Computer, withComputer } from './computer.ts';

/** A computer with the desktop edition, to be started as often as a test likes. */
export const test = base.extend<{ computer: Computer }, { bundled: string }>({
  bundled: [
    async ({}, use, worker) => {
      const folder = await bundleDesktop(worker.workerIndex);
      await use(folder);
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: 'worker' },
  ],
  computer: async ({ browser, bundled, contextOptions }, use) => {
    await withComputer({ browser, bundled, options: contextOptions }, use);
  },
});
export { expect };
