import { build } from 'esbuild';
import { createRequire } from 'node:module';
import type { Page } from 'playwright/test';

/** `outHarness.ts` and all it needs as one text; fonts asked for by address (`?url`) lie in it as data. */
const bundled = async (): Promise<string> => {
  const require = createRequire(import.meta.url);
  const bundle = await build({
    entryPoints: ['test/e2e/outHarness.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'chrome120',
    loader: { '.otf': 'dataurl', '.woff': 'dataurl' },
    plugins: [
      {
        name: 'address',
        setup: plugins => {
          plugins.onResolve({ filter: /\?url$/ }, ({ path }) => ({
            path: require.resolve(path.replace(/\?url$/, '')),
          }));
        },
      },
    ],
  });
  return bundle.outputFiles[0]?.text ?? '';
};

/** An empty page that holds `outHarness`. */
export const openOutPage = async (page: Page): Promise<void> => {
  await page.route('**/*', route =>
    route.request().url().startsWith('data:')
      ? route.continue()
      : route.fulfill({ contentType: 'text/html', body: '<!doctype html>' }),
  );
  await page.goto('http://localhost/');
  await page.addScriptTag({ content: await bundled() });
};
