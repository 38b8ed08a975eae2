const escaped = (unit: string): string => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;

const quoted = (text: string): string => JSON.stringify(text).replace(/[\u007f-\uffff]/g, escaped);

/**
 * Canonical JSON: keys sorted, no spaces, absent fields left out. The same data always gives the
 * same text, so that a sum over it means something. Everything beyond ASCII is escaped (RFC 8259,
 * section 7), so that text and bytes are one.
 * @example
 * canonicalJson({ b: 'é', a: 1 }) // => '{"a":1,"b":"\\u00e9"}'
 */
export const canonicalJson = (value: unknown): string => {
  if (typeof value === 'string') return quoted(value);
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : 'null';
  if (typeof value === 'boolean') return String(value);
  if (typeof value !== 'object' || value === null) return 'null';
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const fields: string[] = [];
  const named = value as Readonly<Record<string, unknown>>;
  for (const name of Object.keys(named).sort()) {
    const field = named[name];
    if (field !== undefined) fields.push(`${quoted(name)}:${canonicalJson(field)}`);
  }
  return `{${fields.join(',')}}`;
};

/**
 * ASCII text as bytes.
 * @example
 * asciiBytes('AB') // => new Uint8Array([65, 66])
 */
export const asciiBytes = (text: string): Uint8Array => {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
};

/** Few enough to be handed over as arguments at one time. */
const CHUNK = 8192;

/**
 * Bytes as ASCII text; undefined where a byte is beyond ASCII, which no file of ours holds.
 * @example
 * asciiText(new Uint8Array([65, 66])) // => 'AB'
 * asciiText(new Uint8Array([200])) // => undefined
 */
export const asciiText = (bytes: Uint8Array): string | undefined => {
  // Counted, not iterated: a register of a thousand files passes through here.
  for (let i = 0; i < bytes.length; i++) if ((bytes[i] ?? 0) > 126) return undefined;
  let text = '';
  for (let at = 0; at < bytes.length; at += CHUNK) {
    text += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  }
  return text;
};
