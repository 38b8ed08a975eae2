import { existsSync } from 'node:fs';
import { join } from 'node:path';

/** Files that come with the project's workplace, not with the project: the W3C schema, the cases. */
export const sharedFile = (path: string): string | undefined => {
  const found = join(process.env['MALLETLOOM_SHARED'] ?? '../shared', path);
  if (existsSync(found)) return found;
  console.warn(
    `SKIPPED: ${path} is not beside this clone (see DEVELOPERS.md, MALLETLOOM_SHARED), so what needs it was not checked.`,
  );
  return undefined;
};
