/** Plain data in one way only: keys sorted, no spaces, absent fields left out. */
const inOrder = (value: unknown): unknown => {
  if (Array.isArray(value)) return value.map(inOrder);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
      .map(([name, of]) => [name, inOrder(of)]),
  );
};

/**
 * Canonical JSON: the same data always gives the same text, so that a sum over it means something.
 * Everything beyond ASCII is escaped (RFC 8259, section 7), so that text and bytes are one.
 * @example canonicalJson({ b: 'é', a: 1 }) // '{"a":1,"b":"\\u00e9"}'
 */
export const canonicalJson = (value: unknown): string =>
  JSON.stringify(inOrder(value)).replace(
    /[\u007f-\uffff]/g,
    unit => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** ASCII text as bytes. */
export const asciiBytes = (text: string): Uint8Array => Uint8Array.from(text, unit => unit.charCodeAt(0));

/** Bytes as ASCII text; undefined where a byte is beyond ASCII, which no file of ours holds. */
export const asciiText = (bytes: Uint8Array): string | undefined => {
  const pieces: string[] = [];
  for (let at = 0; at < bytes.length; at += 8192) {
    const some = bytes.subarray(at, at + 8192);
    if (some.some(byte => byte > 126)) return undefined;
    pieces.push(String.fromCharCode(...some));
  }
  return pieces.join('');
};
