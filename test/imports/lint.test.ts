import { ESLint } from 'eslint';
import { expect, it } from 'vitest';

interface Block {
  readonly files?: readonly string[];
  readonly rules?: Readonly<Record<string, unknown>>;
}

/** One rule of ours alone, without types: quick, and the same objects that `npm run check:lint` uses. */
const ruleOf = async (rule: string): Promise<Readonly<Record<string, unknown>>> => {
  const where = new URL('../../eslint.config.js', import.meta.url).href;
  const { default: blocks } = (await import(where)) as { readonly default: readonly Block[] };
  const of = blocks.find(
    block => block.files?.includes('renderer/**/*.tsx') === true && block.rules?.[rule] !== undefined,
  );
  return of?.rules ?? {};
};
const complaints = async (text: string, rule = 'no-restricted-syntax'): Promise<readonly string[]> => {
  const lint = new ESLint({
    overrideConfigFile: true,
    overrideConfig: [{ files: ['**/*.js'], rules: (await ruleOf(rule)) as never }],
  });
  const [result] = await lint.lintText(text, { filePath: 'view.js' });
  return (result?.messages ?? []).map(m => `${String(m.line)}: ${m.message}`);
};

it('a view cannot write state, and nothing outside the desk is state at import', async () => {
  expect(
    await complaints(`
      export const state = signal(1);
      effect(() => undefined);
      const twice = computed(() => 2);
      const press = () => { state.value = 2; };
    `),
  ).toEqual([
    '2: No state and no effects at import: state is the desk, effects are made in main.',
    '3: No state and no effects at import: state is the desk, effects are made in main.',
    '4: No state and no effects at import: state is the desk, effects are made in main.',
    '5: Only the desk is written to, and only by commands.',
  ]);
});

it('what is made inside a function, and a field of a form, is nobody’s state', async () => {
  expect(
    await complaints(`
      export const make = () => { const own = signal(1); return effect(() => own.value); };
      const clear = event => { event.currentTarget.value = ''; };
    `),
  ).toEqual([]);
});

it('shapes come from one place, for zod alone builds code from strings, which the pages forbid', async () => {
  expect(await complaints(`import { z } from 'zod'; z.string();`, 'no-restricted-imports')).toEqual([
    "1: 'zod' import is restricted from being used. Take z from core/foundation/schema.ts: it keeps to the content policy.",
  ]);
  expect(await complaints(`import { z } from './schema.ts'; z.string();`, 'no-restricted-imports')).toEqual(
    [],
  );
});
