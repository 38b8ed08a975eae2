import { crc32, inflateRawSync } from 'node:zlib';

// Zip archives by hand, from PKWARE's APPNOTE.TXT 6.3.9 (sections 4.3.7, 4.3.12, 4.3.16), so that the tests do
// not read and write with the library that the product uses.

/** One file of an archive, with what its headers may be made to say. */
export interface ZipEntry {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** Uncompressed size, where it lies. */
  readonly claims?: number;
  /** Compression method: 0 stored, 8 deflated. */
  readonly method?: number;
  /** The entry whose bytes this one has, in place of its own. */
  readonly over?: number;
}

/** An archive in which `bytes` stand as they are. */
export const zipOf = (entries: readonly ZipEntry[]): Uint8Array => {
  const parts: Buffer[] = [];
  const central: Buffer[] = [];
  const offsets: number[] = [];
  let at = 0;
  for (const [i, { name, bytes, claims = bytes.length, method = 0, over }] of entries.entries()) {
    const fixed = Buffer.alloc(26);
    fixed.writeUInt16LE(20, 0);
    fixed.writeUInt16LE(method, 4);
    fixed.writeUInt16LE(0x21, 8);
    fixed.writeUInt32LE(crc32(bytes), 10);
    fixed.writeUInt32LE(bytes.length, 14);
    fixed.writeUInt32LE(claims, 18);
    fixed.writeUInt16LE(Buffer.byteLength(name), 22);
    offsets[i] = over === undefined ? at : (offsets[over] ?? 0);
    if (over === undefined) {
      const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), fixed, Buffer.from(name), bytes]);
      parts.push(local);
      at += local.length;
    }
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(offsets[i] ?? 0, 10);
    central.push(
      Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), fixed, rest, Buffer.from(name)]),
    );
  }
  const directory = Buffer.concat(central);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(entries.length, 4);
  end.writeUInt16LE(entries.length, 6);
  end.writeUInt32LE(directory.length, 8);
  end.writeUInt32LE(at, 12);
  return new Uint8Array(Buffer.concat([...parts, directory, Buffer.from('PK\x05\x06', 'latin1'), end]));
};

/** The files of an archive, each with its sum checked. Throws where it is not as the standard says. */
export const unzipByHand = (archive: Uint8Array): Map<string, Uint8Array> => {
  const all = Buffer.from(archive);
  const end = all.length - 22;
  if (all.readUInt32LE(end) !== 0x06054b50) throw new Error('no end of central directory');
  const files = new Map<string, Uint8Array>();
  let at = all.readUInt32LE(end + 16);
  for (let i = all.readUInt16LE(end + 10); i > 0; i--) {
    if (all.readUInt32LE(at) !== 0x02014b50) throw new Error('no central header');
    const method = all.readUInt16LE(at + 10);
    const sum = all.readUInt32LE(at + 16);
    const size = all.readUInt32LE(at + 20);
    const nameLength = all.readUInt16LE(at + 28);
    const name = all.toString('utf8', at + 46, at + 46 + nameLength);
    const local = all.readUInt32LE(at + 42);
    if (all.readUInt32LE(local) !== 0x04034b50) throw new Error('no local header');
    const start = local + 30 + all.readUInt16LE(local + 26) + all.readUInt16LE(local + 28);
    const stored = all.subarray(start, start + size);
    const bytes = method === 8 ? inflateRawSync(stored) : stored;
    if (crc32(bytes) !== sum || bytes.length !== all.readUInt32LE(at + 24)) throw new Error(`sum of ${name}`);
    files.set(name, new Uint8Array(bytes));
    at += 46 + nameLength + all.readUInt16LE(at + 30) + all.readUInt16LE(at + 32);
  }
  return files;
};

/** An archive that counts its files in the 64-bit extension (sections 4.3.14 and 4.3.15), to whatever is said. */
export const countingTo64Bits = (archive: Uint8Array, count: number): Uint8Array => {
  const all = Buffer.from(archive);
  const end = all.length - 22;
  const record = Buffer.alloc(56);
  record.writeUInt32LE(0x06064b50, 0);
  record.writeUInt32LE(44, 4);
  record.writeUInt32LE(count, 24);
  record.writeUInt32LE(count, 32);
  record.writeUInt32LE(all.readUInt32LE(end + 12), 40);
  record.writeUInt32LE(all.readUInt32LE(end + 16), 48);
  const locator = Buffer.alloc(20);
  locator.writeUInt32LE(0x07064b50, 0);
  locator.writeUInt32LE(end, 8);
  return new Uint8Array(Buffer.concat([all.subarray(0, end), record, locator, all.subarray(end)]));
};
