import type { Picture } from './picture.ts';

/** Dots an inch of a picture that is to be printed. */
export const DOTS = 300;

/**
 * A picture as PNG at 300 dots an inch, on white, its resolution written in it.
 * @throws when the browser cannot draw it
 */
export const asPng = async ({ svg, width, height }: Picture): Promise<Uint8Array> => {
  const scale = DOTS / 96;
  const url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    const context = canvas.getContext('2d');
    if (context === null) throw new Error('no canvas');
    context.fillStyle = '#ffffff';
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise<Blob | null>(resolve => {
      canvas.toBlob(resolve, 'image/png');
    });
    if (blob === null) throw new Error('the picture is too large for this browser');
    return withResolution(new Uint8Array(await blob.arrayBuffer()), DOTS);
  } finally {
    URL.revokeObjectURL(url);
  }
};

/** CRC-32 as PNG uses it (PNG specification, annex D; polynomial edb88320). */
const crc32 = (bytes: Uint8Array): number => {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
};

/** Where IHDR, always the first chunk, ends: 8 bytes of signature, 25 of IHDR. */
const AFTER_HEADER = 33;

/** A PNG with a pHYs chunk, so that programs place it at its true size. */
export const withResolution = (png: Uint8Array, dots: number): Uint8Array => {
  const chunk = new Uint8Array(21);
  const view = new DataView(chunk.buffer);
  view.setUint32(0, 9);
  chunk.set([0x70, 0x48, 0x59, 0x73], 4);
  const perMetre = Math.round(dots / 0.0254);
  view.setUint32(8, perMetre);
  view.setUint32(12, perMetre);
  view.setUint8(16, 1);
  view.setUint32(17, crc32(chunk.subarray(4, 17)));
  const out = new Uint8Array(png.length + chunk.length);
  out.set(png.subarray(0, AFTER_HEADER));
  out.set(chunk, AFTER_HEADER);
  out.set(png.subarray(AFTER_HEADER), AFTER_HEADER + chunk.length);
  return out;
};
