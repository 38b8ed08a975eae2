import { createReadStream } from 'node:fs';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { SAFE_HEADERS } from './contentPolicy.ts';
import { findFile } from './staticFiles.ts';

export interface Serving {
  /** Address of the app, with a slash at the end. */
  readonly url: string;
  readonly close: () => Promise<void>;
}

const LOOPBACK = ['127.0.0.1', 'localhost', '[::1]'];

/**
 * Whether a Host header names this computer. A page elsewhere that points its own name at 127.0.0.1
 * (DNS rebinding) still sends its own name here, and is refused.
 */
export const isLoopbackHost = (host: string | undefined): boolean =>
  host !== undefined && LOOPBACK.includes(host.toLowerCase().replace(/:\d{1,5}$/, ''));

/** How the server names itself in every answer, so that a second start knows the first. */
const NAME = 'Malletloom';

/** Whether Malletloom answers at an address already; false where nothing answers within a second. */
export const answersAt = async (url: string): Promise<boolean> => {
  try {
    const answer = await fetch(url, {
      method: 'HEAD',
      redirect: 'manual',
      signal: AbortSignal.timeout(1000),
    });
    return answer.headers.get('server') === NAME;
  } catch {
    return false;
  }
};

const refuse = (response: ServerResponse, status: number, text: string, more = {}): void => {
  response.writeHead(status, { ...SAFE_HEADERS, 'Content-Type': 'text/plain; charset=utf-8', ...more });
  response.end(text);
};

const answer = async (root: string, request: IncomingMessage, response: ServerResponse): Promise<void> => {
  response.setHeader('Server', NAME);
  const { host } = request.headers;
  if (!isLoopbackHost(host)) {
    refuse(response, 421, 'This server answers only to its own computer.');
    return;
  }
  // A browser keeps a library for each name of a server: one name, so that there is one library.
  if (host !== undefined && !host.startsWith('127.0.0.1')) {
    const port = /:\d{1,5}$/.exec(host)?.[0] ?? '';
    refuse(response, 308, 'Malletloom is at 127.0.0.1.', {
      Location: `http://127.0.0.1${port}${request.url ?? '/'}`,
    });
    return;
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    refuse(response, 405, 'Files here can only be read.', { Allow: 'GET, HEAD' });
    return;
  }
  const file = await findFile(root, request.url ?? '/');
  if (file === undefined) {
    refuse(response, 404, 'There is no such file.');
    return;
  }
  // A rebuilt app must be seen at once, and nothing is gained by caching on the same computer.
  response.writeHead(200, {
    ...SAFE_HEADERS,
    'Content-Type': file.type,
    'Content-Length': file.size,
    'Cache-Control': 'no-cache',
  });
  if (request.method === 'HEAD') {
    response.end();
    return;
  }
  createReadStream(file.path)
    .on('error', () => response.destroy())
    .pipe(response);
};

/**
 * Serves the built app to this computer only, for the browser edition.
 * @param options.root folder of the built renderer
 * @param options.port 0 takes any free one
 * @returns the address, once it listens; rejects when the port is taken
 */
export const serve = (options: { readonly root: string; readonly port: number }): Promise<Serving> =>
  new Promise((done, fail) => {
    const server = createServer((request, response) => {
      void answer(options.root, request, response);
    });
    server.once('error', fail);
    server.listen(options.port, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : options.port;
      done({
        url: `http://127.0.0.1:${String(port)}/`,
        close: () =>
          new Promise(closed => {
            server.close(() => {
              closed();
            });
            server.closeAllConnections();
          }),
      });
    });
  });
