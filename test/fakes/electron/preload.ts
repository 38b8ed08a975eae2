/** Who listens in a page, by channel. */
export type Listeners = Record<string, (event: object, ...told: unknown[]) => void>;

/** Runs in the page before anything else, as a preload does; the bridge is all that it gives the page. */
export const preloadIn = (code: string): string => `(() => {
  if (window.top !== window) return;
  const electron = {
    contextBridge: { exposeInMainWorld: (name, api) => { window[name] = Object.freeze(api); } },
    ipcRenderer: {
      invoke: (channel, ...args) => window.standInInvoke(channel, ...args),
      on: (channel, listener) => { (window.standInListeners ??= {})[channel] = listener; },
    },
  };
  const require = () => electron;
  ${code}
})()`;
