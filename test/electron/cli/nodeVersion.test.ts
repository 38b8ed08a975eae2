import { expect, it } from 'vitest';
import { aboutNode } from '../../../electron/cli/nodeVersion.ts';
import manifest from '../../../node_modules/electron/package.json' with { type: 'json' };

it('an old Node is told in one line what it cannot run, by what the runtime itself asks for', () => {
  const [, least] = />=\s*([\d.]+)/.exec(manifest.engines.node) ?? [];
  expect(aboutNode(`v${least ?? ''}`)).toBeUndefined();
  for (const version of ['v22.12.0', 'v22.13.1', 'v24.0.0']) expect(aboutNode(version)).toBeUndefined();
  for (const version of ['v20.20.2', 'v22.11.9', 'v18.0.0'])
    expect(aboutNode(version)).toMatch(/runs the browser edition and the tests; the desktop edition needs/);
});
