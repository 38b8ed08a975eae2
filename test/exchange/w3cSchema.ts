import { readFileSync } from 'node:fs';
import { validateXML } from 'xmllint-wasm';
import { sharedFile } from './shared.ts';

/** The W3C MusicXML 4.0 schema, with its own copies of what it imports; undefined where it is missing. */
export const schema = sharedFile('musicxml-4.0/musicxml.xsd');

/** What the schema finds wrong in documents; empty when all are valid. */
export const schemaErrors = async (documents: ReadonlyMap<string, string>): Promise<readonly string[]> => {
  const read = (name: string): string =>
    readFileSync(`${(schema ?? '').replace(/musicxml\.xsd$/, '')}${name}`, 'utf8');
  // Imports are named by web address in the schema; the copies beside it are what is used.
  const xsd = read('musicxml.xsd').replace(
    /schemaLocation="[^"]*\/(xml|xlink)\.xsd"/g,
    'schemaLocation="$1.xsd"',
  );
  const done = await validateXML({
    xml: [...documents].map(([name, xml]) => ({
      fileName: `${name}.musicxml`,
      contents: xml.replace(/<!DOCTYPE[^>]*>\s*/, ''),
    })),
    schema: [{ fileName: 'musicxml.xsd', contents: xsd }],
    preload: ['xml.xsd', 'xlink.xsd'].map(fileName => ({ fileName, contents: read(fileName) })),
    initialMemoryPages: 1024,
    maxMemoryPages: 8192,
  });
  return done.valid ? [] : done.errors.map(e => e.rawMessage);
};
