import { expect, test } from 'vitest';
import { sourcesOf } from './sources.ts';

const exported = (text: string): readonly string[] =>
  [
    ...text.matchAll(
      /^export (?:abstract )?(?:const|type|interface|class|enum|(?:async )?function\*?) ([\w$]+)/gm,
    ),
  ].flatMap(([, name]) => name ?? []);

test('no exported name has two meanings', () => {
  const where = new Map<string, string[]>();
  for (const { file, text } of sourcesOf('core', 'renderer', 'electron')) {
    for (const name of exported(text)) where.set(name, [...(where.get(name) ?? []), file]);
  }
  expect(where.size).toBeGreaterThan(400);
  expect([...where].filter(([, files]) => files.length > 1)).toEqual([]);
});
