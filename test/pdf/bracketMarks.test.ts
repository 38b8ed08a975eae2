import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { create } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import type { PageSystem } from '../../renderer/page/drawScore.ts';
import { bracketMarks, nameLines } from '../../renderer/pdf/bracketMarks.ts';
import { type Face, fontsOf } from '../../renderer/pdf/fonts.ts';
import { scoreOf } from '../gallery/situation.ts';
import { SITUATIONS } from '../gallery/situations/index.ts';

const require = createRequire(import.meta.url);
const face = (name: string, path: string): Face => {
  const bytes = new Uint8Array(readFileSync(require.resolve(path)));
  return { name, bytes, font: create(bytes) };
};
const italic = face(
  'italic',
  '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-italic.woff',
);
const fonts = fontsOf(() => [italic]);
const NAME = 'imitation, one bar later';

/** A system of two semibreves, 400 pixels wide, over which one statement begins at a place and goes on, and another may begin. */
const wordsFrom = (from: number, to: number, next?: number): readonly string[] => {
  const [plain] = SITUATIONS;
  if (plain === undefined) throw new Error('the gallery is empty');
  const score = scoreOf(plain);
  const part = score.parts[0]?.id ?? '';
  const anchors = [
    { at: 0, x: 100 },
    { at: 2, x: 500 },
  ];
  const system = { from: 0, to: 2, startX: 100, endX: 500, anchors, staves: [{ part, inkTop: 50 }] };
  const bracket = { id: 's1', part, from: fraction(from, 16), to: fraction(to, 16), text: NAME };
  const after = { id: 's2', part, from: fraction(next ?? 0, 16), to: fraction(32, 16), text: 'x' };
  const named = { ...score, brackets: next === undefined ? [bracket] : [bracket, after] };
  const shown = system as unknown as PageSystem;
  expect(nameLines(named, shown, 2, fonts)[0]).toBeGreaterThan(0);
  return bracketMarks(named, shown, 2, fonts).flatMap(mark => (mark.kind === 'words' ? [mark.text] : []));
};

describe('the name of a statement over a system', () => {
  it('is whole where it begins', () => {
    expect(wordsFrom(0, 64).join(' ')).toBe(NAME);
    expect(wordsFrom(0, 32).join(' ')).toBe(NAME);
  });

  it('waits for the next line, where it is in brackets, if only an upbeat of it stands in this one', () => {
    expect(wordsFrom(31, 64)).toEqual([]);
    expect(wordsFrom(-31, 64).join(' ')).toBe(`(${NAME})`);
  });

  it('is not said in small print over the lesser piece of its bracket', () => {
    // Room for three short lines at half the size: the greater piece is on the next line, or was on the one before.
    expect(wordsFrom(26, 64)).toEqual([]);
    expect(wordsFrom(26, 33).join(' ')).toBe(NAME);
    // So is what another bracket leaves no room for.
    expect(wordsFrom(-32, 7, 7).join(' ')).toBe('x');
    expect(wordsFrom(-3, 7, 7).join(' ')).toBe(`(${NAME}) x`);
  });

  it('takes lines over its own stave alone', () => {
    const [plain] = SITUATIONS;
    if (plain === undefined) throw new Error('the gallery is empty');
    const score = scoreOf(plain);
    const anchors = [
      { at: 0, x: 100 },
      { at: 2, x: 240 },
    ];
    const staves = ['one', 'two'].map(part => ({ part, inkTop: 50 }));
    const shown = { from: 0, to: 2, startX: 100, endX: 240, anchors, staves } as unknown as PageSystem;
    const bracket = { id: 's1', part: 'two', from: fraction(0), to: fraction(2), text: NAME };
    expect(nameLines({ ...score, brackets: [bracket] }, shown, 2, fonts)).toEqual([1, 2]);
  });

  it('is cut short only where it ends there, too', () => {
    expect(wordsFrom(31, 32).join(' ')).toMatch(/…$/);
  });
});
