import { hostOf } from './hostFolder.ts';

/** What becomes of the app's own files in this browser. */
export interface OwnFiles {
  /** All are here: it opens without its server from now on. */
  readonly onKept: () => void;
  /** Those of a newer version are here, and wait until every window of this one is closed. */
  readonly onNewer: () => void;
}

/**
 * Has the browser keep the app's own files, so that it opens without its server. The desktop edition has them
 * on its disk. A browser that cannot goes on as before.
 */
export const keepOwnFiles = async ({ onKept, onNewer }: OwnFiles): Promise<void> => {
  if (hostOf() !== undefined || !('serviceWorker' in navigator)) return;
  try {
    const { serviceWorker } = navigator;
    const isFirst = serviceWorker.controller === null;
    const registration = await serviceWorker.register('./serviceWorker.js', { updateViaCache: 'none' });
    const waits = (): void => {
      if (registration.waiting !== null && !isFirst) onNewer();
    };
    registration.addEventListener('updatefound', () => {
      registration.installing?.addEventListener('statechange', event => {
        const { state } = event.target as ServiceWorker;
        if (state === 'installed') waits();
        else if (state === 'activated' && isFirst) onKept();
      });
    });
    waits();
  } catch {
    // Private windows may refuse; then the app needs its server, as before.
  }
};
