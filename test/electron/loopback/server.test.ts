import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createServer, request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PAGE_POLICY } from '../../../electron/loopback/contentPolicy.ts';
import { answersAt, isLoopbackHost, serve, type Serving } from '../../../electron/loopback/server.ts';
import { askedPath } from '../../../electron/loopback/staticFiles.ts';

let home = '';
let serving: Serving;

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'malletloom-server-'));
  const root = join(home, 'app');
  mkdirSync(join(root, 'assets'), { recursive: true });
  writeFileSync(join(home, 'secret.txt'), 'not for pages');
  writeFileSync(join(home, 'app-secret.txt'), 'a neighbour whose name begins alike');
  writeFileSync(join(root, 'index.html'), '<!doctype html><title>app</title>');
  writeFileSync(join(root, 'assets', 'a b.js'), 'export {};');
  writeFileSync(join(root, 'font.woff2'), 'font');
  symlinkSync(join(home, 'secret.txt'), join(root, 'assets', 'leak.txt'));
  serving = await serve({ root, port: 0 });
});
afterAll(async () => {
  await serving.close();
  rmSync(home, { recursive: true, force: true });
});

interface Answer {
  readonly status: number | undefined;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

/** Asks with the path just as written: fetch would tidy ".." away before it is sent. */
const ask = (path: string, options: { method?: string; host?: string } = {}): Promise<Answer> =>
  new Promise((done, fail) => {
    const { hostname, port } = new URL(serving.url);
    const sent = request(
      {
        hostname,
        port,
        path,
        method: options.method ?? 'GET',
        ...(options.host === undefined ? {} : { headers: { Host: options.host } }),
      },
      response => {
        let body = '';
        response.on('data', (chunk: Buffer) => (body += chunk.toString()));
        response.on('end', () => {
          done({ status: response.statusCode, headers: response.headers, body });
        });
      },
    );
    sent.on('error', fail);
    sent.end();
  });

describe('the loopback server', () => {
  it('gives the app at / with the headers that keep it shut', async () => {
    const answer = await ask('/');
    expect(answer.status).toBe(200);
    expect(answer.body).toContain('<title>app</title>');
    expect(answer.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'");
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    expect(answer.headers['referrer-policy']).toBe('no-referrer');
    expect(answer.headers['cross-origin-opener-policy']).toBe('same-origin');
    expect(answer.headers['cross-origin-resource-policy']).toBe('same-origin');
    expect(answer.headers['permissions-policy']).toContain('midi=(self), camera=(), microphone=(self)');
    for (const shut of ["base-uri 'none'", "form-action 'none'", "object-src 'none'"])
      expect(answer.headers['content-security-policy']).toContain(shut);
  });

  it('has the same policy as the page itself', () => {
    const page = readFileSync(new URL('../../../renderer/index.html', import.meta.url), 'utf8');
    expect(/content="(default-src[^"]*)"/.exec(page)?.[1]).toBe(PAGE_POLICY);
  });

  // JavaScript media type: RFC 9239; font/woff2: RFC 8081.
  it('says what kind of file it sends', async () => {
    expect((await ask('/assets/a%20b.js')).headers['content-type']).toBe('text/javascript; charset=utf-8');
    expect((await ask('/font.woff2?v=1')).headers['content-type']).toBe('font/woff2');
  });

  it.each([
    '/../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/assets/..%2f..%2fsecret.txt',
    '/..%5csecret.txt',
    '/../app-secret.txt',
    '/assets/leak.txt',
    '//etc/passwd',
    '/index.html%00.js',
    '/%',
    '/assets',
    '/nothing.js',
  ])('gives nothing for %s', async path => {
    const answer = await ask(path);
    expect(answer.status).toBe(404);
    expect(answer.body).not.toContain('not for pages');
  });

  it('sends no body for HEAD and refuses every other verb', async () => {
    const head = await ask('/', { method: 'HEAD' });
    expect([head.status, head.body]).toEqual([200, '']);
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      expect((await ask('/', { method })).status).toBe(405);
    }
  });

  it('refuses a name that is not this computer (DNS rebinding)', async () => {
    expect((await ask('/', { host: 'app.example' })).status).toBe(421);
    expect((await ask('/', { host: '127.0.0.1.example:80' })).status).toBe(421);
    expect(isLoopbackHost('[::1]:80')).toBe(true);
    expect(isLoopbackHost(undefined)).toBe(false);
  });

  it('leads localhost to 127.0.0.1, for a browser keeps a library for each name', async () => {
    const led = await ask('/assets/a%20b.js?x=1', { host: 'localhost:8080' });
    expect([led.status, led.headers['location']]).toEqual([308, 'http://127.0.0.1:8080/assets/a%20b.js?x=1']);
    expect((await ask('/', { host: 'LOCALHOST' })).headers['location']).toBe('http://127.0.0.1/');
    const there = await fetch(serving.url.replace('127.0.0.1', 'localhost')).catch(() => undefined);
    // A computer may have localhost as ::1 only, where nobody listens.
    if (there !== undefined) expect([there.status, there.url]).toEqual([200, serving.url]);
  });

  it('knows itself at an address, and nobody else', async () => {
    expect(await answersAt(serving.url)).toBe(true);
    const other = createServer((_, response) => response.end('something else'));
    await new Promise<void>(done => other.listen(0, '127.0.0.1', done));
    const { port } = other.address() as AddressInfo;
    expect(await answersAt(`http://127.0.0.1:${String(port)}/`)).toBe(false);
    await new Promise(done => other.close(done));
    expect(await answersAt(`http://127.0.0.1:${String(port)}/`)).toBe(false);
  });

  it('listens on the loopback address only', () => {
    expect(new URL(serving.url).hostname).toBe('127.0.0.1');
  });
});

describe('askedPath', () => {
  it('keeps names with two dots inside them', () => {
    expect(askedPath('/a..b.js')).toBe('/a..b.js');
    expect(askedPath('/')).toBe('/index.html');
    expect(askedPath('/assets/')).toBe('/assets/index.html');
  });
});
