import { readFile } from 'node:fs/promises';
import { isOurs } from './appAddress.ts';
import { SAFE_HEADERS } from '../loopback/contentPolicy.ts';
import { findFile } from '../loopback/staticFiles.ts';

/** Answers a request of the app scheme from the built renderer, with the server's own path check. */
export const answerFromApp = async (
  root: string,
  request: { url: string; method: string },
): Promise<Response> => {
  const plain = { ...SAFE_HEADERS, 'Content-Type': 'text/plain; charset=utf-8' };
  if (!isOurs(request.url) || request.method !== 'GET') {
    return new Response('Refused.', { status: 403, headers: plain });
  }
  const file = await findFile(root, new URL(request.url).pathname);
  if (file === undefined) return new Response('There is no such file.', { status: 404, headers: plain });
  const bytes = await readFile(file.path);
  return new Response(new Uint8Array(bytes), { headers: { ...SAFE_HEADERS, 'Content-Type': file.type } });
};
