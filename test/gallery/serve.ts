import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { bundleGallery, typeOf } from './bundle.ts';

/** `npm run gallery`: shows the gallery on loopback. `npm run gallery -- DIR` writes it to a folder instead. */
const files = await bundleGallery();
const [folder] = process.argv.slice(2);
if (folder !== undefined) {
  mkdirSync(folder, { recursive: true });
  for (const [name, content] of files) writeFileSync(join(folder, name), content);
  console.log(`Written: ${join(folder, 'gallery.html')}`);
} else {
  const server = createServer((request, response) => {
    const name = request.url === '/' ? 'gallery.html' : (request.url ?? '').slice(1);
    const content = files.get(name);
    response.writeHead(content === undefined ? 404 : 200, {
      'content-type': `${typeOf(name)}; charset=utf-8`,
    });
    response.end(content ?? 'not here');
  });
  server.listen(Number(process.env['MALLETLOOM_PORT'] ?? 0), '127.0.0.1', () => {
    const address = server.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    console.log(`The gallery: http://127.0.0.1:${String(port)}/ (Ctrl+C stops it)`);
  });
}
