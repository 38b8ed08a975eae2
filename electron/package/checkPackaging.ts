import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Configuration } from 'electron-builder';

const project = fileURLToPath(new URL('../..', import.meta.url));

/** The packager's own check of a configuration by its published schema; it throws what is wrong. */
const { validateConfiguration } = createRequire(import.meta.url)(
  'app-builder-lib/out/util/config/config',
) as {
  readonly validateConfiguration: (config: Configuration, log: object) => Promise<void>;
};
const SILENT = { isEnabled: false, add: () => undefined };

/** What is wrong with a configuration, on whatever platform it is for; undefined when nothing is. */
export const checkPackaging = async (config: Configuration): Promise<string | undefined> => {
  try {
    await validateConfiguration(config, SILENT);
  } catch (thrown) {
    return thrown instanceof Error ? thrown.message : String(thrown);
  }
  const named = [config.win?.icon, config.mac?.icon, config.linux?.icon, config.mac?.entitlements];
  const missing = named.filter(path => typeof path === 'string' && !existsSync(join(project, path)));
  return missing.length === 0 ? undefined : `These files are named and not there: ${missing.join(', ')}`;
};
