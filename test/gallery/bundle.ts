import { readFileSync } from 'node:fs';
import { build } from 'esbuild';

const here = new URL('./', import.meta.url);

/** The gallery as three files, fonts inside them: it opens from a folder or any server. */
export const bundleGallery = async (): Promise<ReadonlyMap<string, string>> => {
  const made = await build({
    entryPoints: {
      gallery: new URL('galleryPage.ts', here).pathname,
      style: new URL('gallery.css', here).pathname,
    },
    bundle: true,
    write: false,
    outdir: 'out',
    format: 'iife',
    target: 'chrome120',
    loader: { '.woff2': 'dataurl', '.woff': 'dataurl' },
  });
  const textOf = (end: string): string => made.outputFiles.find(f => f.path.endsWith(end))?.text ?? '';
  return new Map([
    ['gallery.html', readFileSync(new URL('gallery.html', here), 'utf8')],
    ['gallery.js', textOf('gallery.js')],
    ['gallery.css', textOf('style.css')],
  ]);
};

const TYPE: Readonly<Record<string, string>> = { html: 'text/html', js: 'text/javascript', css: 'text/css' };
export const typeOf = (name: string): string => TYPE[name.split('.').at(-1) ?? ''] ?? 'text/plain';
