/** A picture of one size, in pixels a side, as PNG. */
export interface IconPicture {
  readonly size: number;
  readonly png: Uint8Array;
}

/** Sizes that are asked for somewhere: task bars, docks, installers, app lists, doubled for fine screens. */
export const ICON_SIZES = [16, 24, 32, 48, 64, 128, 256, 512, 1024] as const;

const joined = (parts: readonly Uint8Array[]): Uint8Array => {
  const all = new Uint8Array(parts.reduce((so, part) => so + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
};

/**
 * An icon of Windows: a table, then each picture as PNG (the ICO format as Microsoft documents it, PNG since Vista;
 * from memory).
 * @param pictures of at most 256 pixels a side
 */
export const icoOf = (pictures: readonly IconPicture[]): Uint8Array => {
  const head = new DataView(new ArrayBuffer(6 + 16 * pictures.length));
  head.setUint16(2, 1, true);
  head.setUint16(4, pictures.length, true);
  let at = head.byteLength;
  pictures.forEach(({ size, png }, i) => {
    const entry = 6 + 16 * i;
    // 256 does not fit into a byte and is written as 0.
    head.setUint8(entry, size % 256);
    head.setUint8(entry + 1, size % 256);
    head.setUint16(entry + 4, 1, true);
    head.setUint16(entry + 6, 32, true);
    head.setUint32(entry + 8, png.length, true);
    head.setUint32(entry + 12, at, true);
    at += png.length;
  });
  return joined([new Uint8Array(head.buffer), ...pictures.map(({ png }) => png)]);
};

/** Names of the sizes in an icon of macOS; some sizes stand twice, once as a smaller one doubled. */
const ICNS_NAMES = [
  ['ic11', 32],
  ['ic12', 64],
  ['ic07', 128],
  ['ic13', 256],
  ['ic08', 256],
  ['ic14', 512],
  ['ic09', 512],
  ['ic10', 1024],
] as const;

/** An icon of macOS: named pictures one after the other, each with its length (the ICNS format; from memory). */
export const icnsOf = (pictures: readonly IconPicture[]): Uint8Array => {
  const block = (name: string, content: Uint8Array): Uint8Array => {
    const head = new Uint8Array(8);
    head.set(new TextEncoder().encode(name));
    new DataView(head.buffer).setUint32(4, 8 + content.length);
    return joined([head, content]);
  };
  const parts = ICNS_NAMES.flatMap(([name, size]) =>
    pictures.filter(picture => picture.size === size).map(({ png }) => block(name, png)),
  );
  return block('icns', joined(parts));
};
