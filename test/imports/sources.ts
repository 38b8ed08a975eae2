import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const project = fileURLToPath(new URL('../..', import.meta.url));

/** The TypeScript files below some folders of the project, each with its text. */
export const sourcesOf = (
  ...folders: readonly string[]
): readonly { readonly file: string; readonly text: string }[] =>
  folders.flatMap(folder =>
    readdirSync(`${project}${folder}`, { recursive: true, encoding: 'utf8' })
      .filter(name => /[.]tsx?$/.test(name))
      .sort()
      .map(name => {
        const file = `${folder}/${name.replaceAll('\\', '/')}`;
        return { file, text: readFileSync(project + file, 'utf8') };
      }),
  );
