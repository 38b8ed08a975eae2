import { hasDisplay } from '../../../electron/cli/findBrowser.ts';
import { installedRuntime } from '../../../electron/cli/findRuntime.ts';

/** Why the real desktop edition cannot be run on this machine; undefined where it can. */
export const whyNotReal = (
  project: string,
  machine = { runtime: installedRuntime(project), hasDisplay: hasDisplay() },
): string | undefined => {
  if (machine.runtime === undefined) return 'the Electron runtime is not installed on this machine';
  return machine.hasDisplay ? undefined : 'there is no display to open a window on';
};
