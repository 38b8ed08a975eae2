import { realpath, stat } from 'node:fs/promises';
import { extname, join, resolve, sep } from 'node:path';

/** Media types of everything the built app is made of (IANA media types registry; from memory). */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/vnd.microsoft.icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.otf': 'font/otf',
  '.ttf': 'font/ttf',
  '.mid': 'audio/midi',
  '.wav': 'audio/wav',
  '.wasm': 'application/wasm',
  '.txt': 'text/plain; charset=utf-8',
};

export interface StaticFile {
  readonly path: string;
  readonly type: string;
  /** In bytes. */
  readonly size: number;
}

/** Whether `path` is `root` or lies inside it. Both absolute. */
export const isInside = (root: string, path: string): boolean => path === root || path.startsWith(root + sep);

/**
 * The path below the root that a URL path asks for, or undefined when it is no honest one: badly
 * encoded, with a NUL or a backslash, or with a ".." in any spelling.
 */
export const askedPath = (urlPath: string): string | undefined => {
  let decoded: string;
  try {
    decoded = decodeURIComponent(urlPath.replace(/[?#].*$/s, ''));
  } catch {
    return undefined;
  }
  if (!decoded.startsWith('/') || /[\0\\:]/.test(decoded)) return undefined;
  if (decoded.split('/').includes('..')) return undefined;
  return decoded.endsWith('/') ? `${decoded}index.html` : decoded;
};

/**
 * The file of the built app a URL path asks for, or undefined when there is none. Links are
 * followed first and the place they lead to must still be inside `root`.
 */
export const findFile = async (root: string, urlPath: string): Promise<StaticFile | undefined> => {
  const asked = askedPath(urlPath);
  if (asked === undefined) return undefined;
  try {
    const home = await realpath(root);
    const wanted = resolve(home, join('.', asked));
    if (!isInside(home, wanted)) return undefined;
    const path = await realpath(wanted);
    if (!isInside(home, path)) return undefined;
    const found = await stat(path);
    if (!found.isFile()) return undefined;
    return {
      path,
      type: TYPES[extname(path).toLowerCase()] ?? 'application/octet-stream',
      size: found.size,
    };
  } catch {
    return undefined;
  }
};
