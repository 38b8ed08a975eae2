import fc from 'fast-check';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { Result } from '../../../core/foundation/result.ts';
import { makePortable } from '../../../core/library/portable/makePortable.ts';
import type { CarriedFile } from '../../../core/library/portable/manifest.ts';
import { readPortable } from '../../../core/library/portable/readPortable.ts';
import { sha256 } from '../pieces.ts';
import { countingTo64Bits, unzipByHand, type ZipEntry, zipOf } from './zip.ts';

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(`${result.problem.what} ${result.problem.detail ?? ''}`);
  return result.value;
};
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const about = { of: 'Heron', madeAt: '2026-01-05T09:00:00.000Z' };
const make = async (files: readonly CarriedFile[]): Promise<Uint8Array> =>
  value(await makePortable(files, about, sha256));

const name = fc.stringMatching(/^[a-z0-9-]{1,20}$/);
const someFiles = fc.uniqueArray(
  fc.record({
    path: fc.tuple(name, name).map(([id, revision]) => `items/${id}/${revision}.json`),
    bytes: fc.uint8Array({ maxLength: 400 }),
  }),
  { selector: file => file.path, maxLength: 12 },
);

/** A manifest for these files as a portable file of the first version has it. */
const manifestOf = async (files: readonly CarriedFile[], more: object = {}): Promise<ZipEntry> => ({
  name: 'malletloom.json',
  bytes: bytesOf(
    JSON.stringify({
      format: 'malletloom-portable',
      version: 1,
      ...about,
      files: await Promise.all(
        files.map(async ({ path, bytes }) => ({ path, size: bytes.length, sha256: await sha256(bytes) })),
      ),
      ...more,
    }),
  ),
});
const read = (bytes: Uint8Array) => readPortable(bytes, 'work.malletloom', sha256);
const kindOf = async (bytes: Uint8Array): Promise<string> => {
  const result = await read(bytes);
  return result.ok ? 'ok' : result.problem.kind;
};
const PATH = 'items/a/r1.json';

describe('a portable file', () => {
  it('gives back what was put in, whatever it is, in an order of its own', async () => {
    await fc.assert(
      fc.asyncProperty(someFiles, async files => {
        const packed = await make(files);
        const back = value(await read(packed));
        expect(back).toMatchObject({ ...about, refused: [] });
        const sorted = [...files].sort((a, b) => (a.path < b.path ? -1 : 1));
        expect(back.files.map(file => [file.path, [...file.bytes]])).toEqual(
          sorted.map(file => [file.path, [...file.bytes]]),
        );
        // The same files, the same bytes, in whatever order they came.
        expect(await make([...files].reverse())).toEqual(packed);
      }),
      { numRuns: 60 },
    );
  });

  // PKWARE, APPNOTE.TXT - .ZIP File Format Specification, version 6.3.9.
  it('is a zip archive as the standard says: any program that reads them finds the files', async () => {
    const files = [
      { path: PATH, bytes: bytesOf('{"a":1}'.repeat(200)) },
      { path: 'items/class-b/r2.json', bytes: bytesOf('{}') },
    ];
    const inside = unzipByHand(await make(files));
    expect([...inside.keys()]).toEqual(['malletloom.json', PATH, 'items/class-b/r2.json']);
    for (const { path, bytes } of files) expect(inside.get(path)).toEqual(bytes);
    const manifest = JSON.parse(new TextDecoder().decode(inside.get('malletloom.json'))) as object;
    expect(manifest).toEqual(JSON.parse(new TextDecoder().decode((await manifestOf(files)).bytes)));
  });

  it('is read from an archive that another program packed again', async () => {
    const files = [{ path: PATH, bytes: bytesOf('{"b":2}') }];
    const entries = [{ name: PATH, bytes: bytesOf('{"b":2}') }, await manifestOf(files)];
    expect(value(await read(zipOf(entries))).files).toEqual(files);
  });

  it.each([0, 0.2, 0.5, 0.8, 0.99])(
    'is refused in a sentence when it ends after %f of its bytes',
    async at => {
      const whole = await make([{ path: PATH, bytes: bytesOf('{"a":1}'.repeat(50)) }]);
      const result = await read(whole.slice(0, Math.floor(whole.length * at)));
      expect(result).toMatchObject({ ok: false, problem: { kind: 'damaged-file' } });
    },
  );

  it('never throws and never gives a spoilt file as a whole one, whichever byte is wrong', async () => {
    const file = { path: PATH, bytes: bytesOf('{"a":[1,2,3]}'.repeat(20)) };
    const whole = await make([file]);
    for (let at = 0; at < whole.length; at++) {
      const spoilt = whole.slice();
      spoilt[at] = (spoilt[at] ?? 0) ^ 0x55;
      const result = await read(spoilt);
      for (const back of result.ok ? result.value.files : []) expect(back.bytes).toEqual(file.bytes);
    }
  });

  it('never throws on bytes that are anything', async () => {
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 600 }), async bytes => {
        expect(await kindOf(bytes)).toBe('damaged-file');
      }),
      { numRuns: 200 },
    );
  });

  it('leaves out one file that is damaged, says which, and brings the others', async () => {
    const good = { path: PATH, bytes: bytesOf('{"good":1}') };
    const bad = { path: 'items/a/r2.json', bytes: bytesOf('{"bad":1}') };
    const entries = [
      await manifestOf([good, bad, { path: 'items/a/r3.json', bytes: bytesOf('gone') }]),
      { name: good.path, bytes: good.bytes },
      { name: bad.path, bytes: bytesOf('{"bad":2}') },
    ];
    const back = value(await read(zipOf(entries)));
    expect(back.files).toEqual([good]);
    expect(back.refused.map(problem => problem.what)).toEqual([
      'items/a/r2.json in work.malletloom is damaged and was left out.',
      'items/a/r3.json in work.malletloom is damaged and was left out.',
    ]);
  });

  it.each([
    '../../etc/passwd',
    '/items/a/r1.json',
    'items/../a/r1.json',
    'items\\a\\r1.json',
    'C:/items/a/r1.json',
    'items/a/r1.exe',
    'items/a/b/r1.json',
    'items/A/R1.json',
    'items/__proto__/r1.json/',
    'malletloom.json',
    '__proto__',
  ])('takes nothing out of the archive that is called %s', async path => {
    const bytes = bytesOf('{}');
    const back = await read(zipOf([{ name: path, bytes }, await manifestOf([{ path, bytes }])]));
    expect(back.ok && back.value.files).toEqual([]);
    expect(back.ok && back.value.refused).toHaveLength(1);
  });

  it('takes a file that is listed twice once', async () => {
    const file = { path: PATH, bytes: bytesOf('{}') };
    const back = value(
      await read(zipOf([await manifestOf([file, file]), { name: PATH, bytes: file.bytes }])),
    );
    expect(back.files).toEqual([file]);
    expect(back.refused).toHaveLength(1);
  });

  it('leaves what the manifest does not name', async () => {
    const file = { path: PATH, bytes: bytesOf('{}') };
    expect(value(await read(zipOf([await manifestOf([]), { name: PATH, bytes: file.bytes }]))).files).toEqual(
      [],
    );
  });

  it('refuses what is no manifest of ours', async () => {
    const of = async (more: object) => kindOf(zipOf([await manifestOf([], more)]));
    expect(await of({})).toBe('ok');
    expect(await of({ format: 'something-else' })).toBe('damaged-file');
    expect(await of({ files: 'none' })).toBe('damaged-file');
    expect(await of({ version: 0 })).toBe('damaged-file');
    expect(await of({ version: 2 })).toBe('newer-file');
    expect(await of({ version: 2, files: 'otherwise' })).toBe('newer-file');
    expect(await of({ of: 'x'.repeat(1001) })).toBe('damaged-file');
    const raw = (text: string) => kindOf(zipOf([{ name: 'malletloom.json', bytes: bytesOf(text) }]));
    expect(await raw('not json')).toBe('damaged-file');
    expect(await raw('null')).toBe('damaged-file');
    expect(await raw('['.repeat(100_000))).toBe('damaged-file');
    expect(await read(zipOf([{ name: PATH, bytes: bytesOf('{}') }]))).toMatchObject({
      problem: { kind: 'damaged-file', detail: 'no manifest' },
    });
    expect(await kindOf(zipOf([]))).toBe('damaged-file');
  });

  describe('made to burst', () => {
    const zeros = new Uint8Array(deflateRawSync(new Uint8Array(200_000)));
    const named = (i: number): string => `items/a/r${String(i)}.json`;

    it('is refused when it promises more than a class library holds', async () => {
      const bomb = Array.from({ length: 40 }, (_, i) => ({
        name: named(i),
        bytes: zeros,
        method: 8,
        claims: 16 * 1024 * 1024,
      }));
      expect(await kindOf(zipOf([await manifestOf([]), ...bomb]))).toBe('too-large');
    });

    it('is refused when its files lie over each other', async () => {
      const manifest = await manifestOf([]);
      const over = Array.from({ length: 30 }, (_, i) => ({
        name: named(i),
        bytes: zeros,
        method: 8,
        claims: 1000,
        ...(i === 0 ? {} : { over: 1 }),
      }));
      expect(await kindOf(zipOf([manifest, ...over]))).toBe('too-large');
    });

    it('gives no more than was promised when a header promises less than there is', async () => {
      const file = { path: PATH, bytes: new Uint8Array(10) };
      const lies = { name: PATH, bytes: zeros, method: 8, claims: 10 };
      const back = await read(zipOf([await manifestOf([file]), lies]));
      // What is cut there may be what the manifest names; it is never more.
      expect(back.ok ? back.value.files.every(one => one.bytes.length === 10) : true).toBe(true);
    });

    it('does not unpack one file larger than any piece', async () => {
      const size = 17 * 1024 * 1024;
      const big = {
        name: PATH,
        bytes: new Uint8Array(deflateRawSync(new Uint8Array(size))),
        method: 8,
        claims: size,
      };
      const manifest = await manifestOf([{ path: PATH, bytes: new Uint8Array(size) }]);
      const back = value(await read(zipOf([manifest, big])));
      expect(back.files.length).toBe(0);
      expect(back.refused).toHaveLength(1);
    });

    it('is refused when it counts thousands of millions of files', async () => {
      const archive = zipOf([await manifestOf([])]);
      expect(await kindOf(archive)).toBe('ok');
      expect(await kindOf(countingTo64Bits(archive, 0xffff_fff0))).toBe('too-large');
    });
  });

  it('is not made of more than it may hold', async () => {
    const large = new Uint8Array(16 * 1024 * 1024);
    const files = Array.from({ length: 33 }, (_, i) => ({
      path: `items/a/r${String(i)}.json`,
      bytes: large,
    }));
    expect(await makePortable(files, about, sha256)).toMatchObject({
      ok: false,
      problem: { kind: 'too-large' },
    });
    const many = Array.from({ length: 65_535 }, (_, i) => ({
      path: `items/a/r${String(i)}.json`,
      bytes: new Uint8Array(0),
    }));
    expect(await makePortable(many, about, sha256)).toMatchObject({
      ok: false,
      problem: { kind: 'too-large' },
    });
  });
});
