import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import fc from 'fast-check';
import { create } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { statementName } from '../../core/plan/naming.ts';
import { type Face, fontsOf } from '../../renderer/pdf/fonts.ts';
import { wrap } from '../../renderer/pdf/wrap.ts';
import { planOfFour, IDEA } from '../exchange/pieces.ts';

const require = createRequire(import.meta.url);
const bytes = new Uint8Array(
  readFileSync(
    require.resolve('@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-italic.woff'),
  ),
);
const italic: Face = { name: 'italic', bytes, font: create(bytes) };
const fonts = fontsOf(() => [italic]);
/** The name's size on a stave of 14 mm, in CSS pixels. */
const LARGE = 24;
/** By the font's own advances, not by the product. */
const widthOf = (text: string, size: number): number =>
  (italic.font.layout(text).glyphs.reduce((so, glyph) => so + glyph.advanceWidth, 0) * size) /
  italic.font.unitsPerEm;

describe('the name of a statement on paper', () => {
  it('stays on one line where it has room, and is then as large as it may be', () => {
    expect(wrap(fonts, 'italic', 'the motif', LARGE, 500)).toMatchObject({
      lines: ['the motif'],
      size: LARGE,
    });
    const tight = widthOf('the motif', LARGE) * 0.85;
    expect(wrap(fonts, 'italic', 'the motif', LARGE, tight)).toMatchObject({
      lines: ['the motif'],
      size: LARGE * 0.8,
    });
  });

  it('takes further lines before it becomes smaller than four fifths, and is never crossed out', () => {
    const name = 'canon by augmentation and inversion, one beat later, a third higher, three times';
    const found = wrap(fonts, 'italic', name, LARGE, 330);
    expect(found.lines.join(' ')).toBe(name);
    expect(found.lines.length).toBeGreaterThan(1);
    expect(found.size).toBeGreaterThanOrEqual(LARGE * 0.8 - 1e-9);
  });

  it('law: whole wherever half its size on three lines has room, within its width, in order', () => {
    const words = fc.constantFrom(
      'canon',
      'imitation,',
      'augmentation',
      'a',
      'third',
      'higher,',
      'two',
      'beats',
      'later',
    );
    fc.assert(
      fc.property(
        fc.array(words, { minLength: 1, maxLength: 14 }),
        fc.integer({ min: 40, max: 700 }),
        (all, most) => {
          const name = all.join(' ');
          const { lines, size, width } = wrap(fonts, 'italic', name, LARGE, most);
          expect(lines.length).toBeLessThanOrEqual(3);
          for (const line of lines)
            expect(widthOf(line, size)).toBeLessThanOrEqual(Math.min(most, width) + 0.01);
          const isWhole = lines.join(' ') === name;
          // Three lines of half size hold whatever is no longer than two and leaves no word over.
          const longest = Math.max(...all.map(word => widthOf(`${word} `, LARGE / 2)));
          if (widthOf(name, LARGE / 2) <= 3 * most - 2 * longest && longest <= most)
            expect(isWhole).toBe(true);
          if (!isWhole) expect(lines[0]).toMatch(/…$/);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('every name of a piece in four parts is whole in a bar of 14 mm, about 250 pixels', () => {
    const plan = planOfFour();
    for (const s of plan.statements) {
      const name = statementName(IDEA, plan, s);
      expect(wrap(fonts, 'italic', name, LARGE, 250).lines.join(' ')).toBe(name);
    }
  });
});
