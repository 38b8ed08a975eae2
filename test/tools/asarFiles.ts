interface Listed {
  readonly files?: Readonly<Record<string, Listed>>;
  readonly offset?: string;
  readonly size?: number;
}

/**
 * The files of an asar archive: four lengths, a table in JSON, then the contents one after the other (electron/asar,
 * README, 'Format'; from memory). Written for the tests, apart from what packs.
 */
export const filesIn = (archive: Buffer): ReadonlyMap<string, Uint8Array> => {
  const tableLength = archive.readUInt32LE(12);
  const table = JSON.parse(archive.toString('utf8', 16, 16 + tableLength)) as Listed;
  const start = 8 + archive.readUInt32LE(4);
  const found = new Map<string, Uint8Array>();
  const walk = (folder: Listed, path: string): void => {
    for (const [name, entry] of Object.entries(folder.files ?? {})) {
      const at = path === '' ? name : `${path}/${name}`;
      if (entry.files !== undefined) walk(entry, at);
      else {
        const from = start + Number(entry.offset ?? 0);
        found.set(at, archive.subarray(from, from + (entry.size ?? 0)));
      }
    }
  };
  walk(table, '');
  return found;
};
