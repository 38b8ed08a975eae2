import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { create } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import type { PageSystem } from '../../renderer/page/drawScore.ts';
import { bracketMarks, mostLines } from '../../renderer/pdf/bracketMarks.ts';
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

/** A system of two semibreves, 400 pixels wide, over which one statement begins at a place and goes on. */
const wordsFrom = (from: number, to: number): readonly string[] => {
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
  const named = { ...score, brackets: [bracket] };
  const shown = system as unknown as PageSystem;
  expect(mostLines(named, [shown], 2, fonts)).toBeGreaterThan(0);
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

  it('is cut short only where it ends there, too', () => {
    expect(wordsFrom(31, 32).join(' ')).toMatch(/…$/);
  });
});
