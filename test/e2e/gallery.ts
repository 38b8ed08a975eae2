import type { Page } from 'playwright/test';
import { bundleGallery, typeOf } from '../gallery/bundle.ts';
import type { Gallery } from '../gallery/galleryPage.ts';

declare global {
  var gallery: Gallery;
}

let files: ReadonlyMap<string, string> | undefined;

/** Opens the gallery in the browser, from memory. */
export const openGallery = async (page: Page): Promise<void> => {
  files ??= await bundleGallery();
  const kept = files;
  await page.route('http://gallery.test/**', async route => {
    const name = new URL(route.request().url()).pathname.slice(1);
    const body = kept.get(name);
    await (body === undefined
      ? route.fulfill({ status: 404 })
      : route.fulfill({ body, contentType: typeOf(name) }));
  });
  await page.setViewportSize({ width: 1200, height: 800 });
  await page.goto('http://gallery.test/gallery.html');
  await page.evaluate(() => gallery.show());
};
