import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

/** What answers requests of the app's own scheme, as `protocol.handle` is given it. */
export type SchemeHandler = (request: Request) => Promise<Response>;

export interface SchemeServer {
  /** Where the pages of the scheme are in a browser that does not know it, without a slash at the end. */
  readonly address: string;
  readonly close: () => Promise<void>;
}

/**
 * Chromium as Playwright drives it knows no scheme of ours: this carries each request to the scheme's own
 * handler and its whole answer, headers too, back. Loopback is a secure context as the scheme is.
 */
export const serveScheme = async (origin: string, handler: () => SchemeHandler): Promise<SchemeServer> => {
  const server = createServer((asked, answer) => {
    const request = new Request(`${origin}${asked.url ?? '/'}`, { method: asked.method ?? 'GET' });
    void handler()(request).then(async response => {
      answer.writeHead(response.status, Object.fromEntries(response.headers));
      answer.end(Buffer.from(await response.arrayBuffer()));
    });
  });
  await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
  return {
    address: `http://127.0.0.1:${String((server.address() as AddressInfo).port)}`,
    close: () =>
      new Promise(resolve => {
        server.closeAllConnections();
        server.close(() => {
          resolve();
        });
      }),
  };
};
