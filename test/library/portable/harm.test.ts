import { describe, expect, it } from 'vitest';
import { memoryFolder } from '../../../core/library/memoryFolder.ts';
import { openLibrary } from '../../../core/library/openLibrary.ts';
import { takeIn } from '../../../core/library/portable/takeIn.ts';
import { barePiece, countingTools, sha256 } from '../pieces.ts';
import { type Files, on, value } from './carry.ts';

describe('from a file that was made to do harm', () => {
  const oneFile = async (): Promise<{ path: string; bytes: Uint8Array }> => {
    const from: Files = new Map();
    value(await openLibrary(memoryFolder(from), countingTools()).save(barePiece('a', 'One'), []));
    const [[path, bytes] = ['', new Uint8Array()]] = from;
    return { path, bytes };
  };
  const into = async (to: Files, path: string, bytes: Uint8Array) =>
    value(await takeIn(memoryFolder(to), { sha256 }, [{ path, bytes }], on));

  it.each(['items/b/r000001.json', 'items/a/r7.json', 'items/class-a/r000001.json'])(
    'takes no piece under another name: %s',
    async path => {
      const { bytes } = await oneFile();
      const to: Files = new Map();
      expect((await into(to, path, bytes)).refused.map(problem => problem.kind)).toEqual(['damaged-file']);
      expect(to.size).toBe(0);
    },
  );

  it.each(['../items/a/r000001.json', 'settings.json', 'items/a/x.exe', ''])(
    'writes nothing to %s',
    async path => {
      const { bytes } = await oneFile();
      const to: Files = new Map();
      const { refused } = await into(to, path, bytes);
      expect(refused).toHaveLength(1);
      for (const { what, kept, next } of refused)
        for (const sentence of [what, kept, next]) expect(sentence).toMatch(/\w.*\.$/);
      expect(to.size).toBe(0);
    },
  );

  it('takes nothing whose sum is wrong, or that a newer Malletloom made', async () => {
    const { path, bytes } = await oneFile();
    const text = new TextDecoder().decode(bytes);
    const to: Files = new Map();
    const changed = new TextEncoder().encode(text.replace('"One"', '"Two"'));
    expect((await into(to, path, changed)).refused[0]?.what).toBe(`${path} is damaged, and was left out.`);
    const newer = new TextEncoder().encode(text.replace(/"version":\d+/, '"version":999'));
    expect((await into(to, path, newer)).refused[0]?.what).toBe(
      `${path} was made by a newer Malletloom, and was left out.`,
    );
    expect(to.size).toBe(0);
  });

  it('leaves what lies there under the same name, and says so', async () => {
    const { path, bytes } = await oneFile();
    const mine = new Uint8Array([1, 2, 3]);
    const to: Files = new Map([[path, mine]]);
    const taken = await into(to, path, bytes);
    expect(taken.refused.map(problem => problem.kind)).toEqual(['conflict']);
    expect(to.get(path)).toBe(mine);
    // One byte more or less, or another one, is something else.
    for (const other of [bytes.slice(0, -1), Uint8Array.from(bytes, (b, i) => (i === 9 ? b + 1 : b))]) {
      const there: Files = new Map([[path, other]]);
      expect(await into(there, path, bytes)).toMatchObject({ there: 0, refused: [{ kind: 'conflict' }] });
    }
  });
});
