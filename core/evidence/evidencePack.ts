import { zipSync } from 'fflate';

/** One file of an evidence pack. */
export interface PackedFile {
  /** Without folders. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What lies in such files is pressed already, or hardly can be. */
const STORED = /\.(?:wav|pdf|png)$/;

/**
 * Packs files into one zip archive (PKWARE APPNOTE 6.3.9), which every system opens. Two files of one name are both
 * there, the second as "name-2".
 * @param madeAt time the archive gives its files; a zip archive knows the years 1980 to 2099
 * @example
 * evidencePack([{ name: 'a.txt', bytes: new Uint8Array([72, 105]) }], new Date(2026, 10, 27)).length > 100 // => true
 */
export const evidencePack = (files: readonly PackedFile[], madeAt: Date): Uint8Array => {
  const all: Record<string, [Uint8Array, { level: 0 | 6 }]> = {};
  for (const { name, bytes } of files) {
    const dot = name.lastIndexOf('.');
    let free = name;
    for (let n = 2; Object.hasOwn(all, free); n++)
      free = `${name.slice(0, dot)}-${String(n)}${name.slice(dot)}`;
    all[free] = [bytes, { level: STORED.test(name) ? 0 : 6 }];
  }
  return zipSync(all, { mtime: madeAt });
};
