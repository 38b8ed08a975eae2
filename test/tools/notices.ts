import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

// `npm run notices` writes THIRD-PARTY-NOTICES.md from what is installed; `-- --check` fails where it is old.

const project = fileURLToPath(new URL('../..', import.meta.url));
const TARGET = join(project, 'THIRD-PARTY-NOTICES.md');
/** Licences the project takes (DEVELOPERS.md, Dependencies). */
const TAKEN =
  /^\(?(MIT|MIT-0|BSD-2-Clause|BSD-3-Clause|Apache-2\.0|ISC|0BSD|OFL-1\.1|MPL-2\.0|LGPL-3\.0(-or-later)?|Unlicense|CC0-1\.0|BlueOak-1\.0\.0|Zlib)/;

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string | { readonly type: string };
  readonly dependencies?: Readonly<Record<string, string>>;
}

const manifestOf = (folder: string): Manifest =>
  JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;

/** Where a package is installed, seen from the folder that asks for it. */
const folderOf = (name: string, from: string): string | undefined => {
  for (let at = from; at.startsWith(project.replace(/\/$/, '')); at = join(at, '..')) {
    const found = join(at, 'node_modules', name);
    if (existsSync(join(found, 'package.json'))) return found;
  }
  return undefined;
};

const licenceText = (folder: string): string => {
  const file = readdirSync(folder).find(name => /^licen[cs]e|^copying|^ofl/i.test(name));
  return file === undefined ? '' : readFileSync(join(folder, file), 'utf8').trim();
};

/** Every package that is part of the built app, by its folder. */
const shipped = new Map<string, Manifest>();
const visit = (name: string, from: string): void => {
  const folder = folderOf(name, from);
  if (folder === undefined || shipped.has(folder)) return;
  const manifest = manifestOf(folder);
  shipped.set(folder, manifest);
  for (const inner of Object.keys(manifest.dependencies ?? {})) visit(inner, folder);
};
for (const name of Object.keys(manifestOf(project).dependencies ?? {})) visit(name, project);

const licenceOf = ({ license }: Manifest): string =>
  typeof license === 'string' ? license : (license?.type ?? 'not said');
const all = [...shipped].sort(([, a], [, b]) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
const refused = all.filter(([, manifest]) => !TAKEN.test(licenceOf(manifest)));
if (refused.length > 0) {
  console.error(
    `Licences this project does not take: ${refused.map(([, m]) => `${m.name} (${licenceOf(m)})`).join(', ')}`,
  );
  process.exit(1);
}
const text = `# Third parties

Made by \`npm run notices\` from what is installed. These packages are part of the built app; Bravura and
Atkinson Hyperlegible are fonts under the SIL Open Font License 1.1. Electron carries its own licences
beside its program.

${all
  .map(([folder, m]) => {
    const words = licenceText(folder);
    return `## ${m.name} ${m.version}\n\nLicence: ${licenceOf(m)}\n${words === '' ? '' : `\n\`\`\`text\n${words.replace(/\r/g, '').replace(/[ \t]+$/gm, '')}\n\`\`\`\n`}`;
  })
  .join('\n')}`;

if (process.argv.includes('--check')) {
  const old = existsSync(TARGET) ? readFileSync(TARGET, 'utf8') : '';
  if (old !== text) {
    console.error('THIRD-PARTY-NOTICES.md is old: run `npm run notices`.');
    process.exit(1);
  }
  console.log(`THIRD-PARTY-NOTICES.md names all ${String(all.length)} packages.`);
} else {
  writeFileSync(TARGET, text);
  console.log(`${String(all.length)} packages written to THIRD-PARTY-NOTICES.md.`);
}
