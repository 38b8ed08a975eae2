import { clientsClaim } from 'workbox-core';
import { cleanupOutdatedCaches, precacheAndRoute } from 'workbox-precaching';

/** Every file of the built app, with the beginning of its SHA-256; put here when it is built (electron/cli/offlineFiles.ts). */
declare const __FILES__: readonly { readonly url: string; readonly revision: string }[];

// The app opens without its server once it has been opened: all its files are kept at the first visit, and
// answered from there. A newer one is fetched beside them and waits until every window of the old one is
// closed, so that no window is left with half of each.
// The window of the first visit has what it needs at once, too.
clientsClaim();
cleanupOutdatedCaches();
precacheAndRoute([...__FILES__]);
