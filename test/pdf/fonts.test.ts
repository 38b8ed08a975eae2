import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { create } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { fit } from '../../renderer/pdf/fit.ts';
import { type Face, fontsOf, placedRuns } from '../../renderer/pdf/fonts.ts';
import { withResolution } from '../../renderer/pdf/png.ts';

const require = createRequire(import.meta.url);
const face = (name: string, path: string): Face => {
  const bytes = new Uint8Array(readFileSync(require.resolve(path)));
  return { name, bytes, font: create(bytes) };
};
const ATKINSON = '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible';
const notation = face('notation', '@vexflow-fonts/bravura/bravura.otf');
const plain = face('plain', `${ATKINSON}-latin-400-normal.woff`);
const more = face('plain+', `${ATKINSON}-latin-ext-400-normal.woff`);
const fonts = fontsOf(hand => (hand === 'notation' ? [notation] : [plain, more]));

const told = (text: string): string[] =>
  fonts.runs('plain', text).map(run => `${run.face.name}: ${run.text}`);

describe('the fonts of a page', () => {
  it('write plain words in one run', () => {
    expect(told('composed by Heron, é “×4”')).toEqual(['plain: composed by Heron, é “×4”']);
  });

  it('take letters of other languages from the second file, and ♯ from the notation font, set up to letters', () => {
    expect(told('Łoś')).toEqual(['plain+: Ł', 'plain: o', 'plain+: ś']);
    expect(told('F♯4')).toEqual(['plain: F', 'notation: ♯', 'plain: 4']);
    expect(told('F𝄪4')).toEqual(['plain: F', 'notation: 𝄪', 'plain: 4']);
    expect(fonts.runs('plain', '♯')[0]?.rise).toBeGreaterThan(0.2);
  });

  it('write ? for what none of them has, one for each character, never a box', () => {
    expect(told('a🎵b')).toEqual(['plain: a?b']);
    expect(told('Птица')).toEqual(['plain: ?????']);
    // ...and say so.
    expect([...fonts.missing()].sort()).toEqual([...new Set('🎵Птица')].sort());
  });

  it('are as wide as their letters, and runs follow each other without a gap', () => {
    const wide = fonts.width('plain', 20, 'F♯4');
    const runs = placedRuns(fonts, 'plain', 20, 'F♯4');
    expect(runs.map(run => run.from)).toEqual([
      0,
      fonts.width('plain', 20, 'F'),
      fonts.width('plain', 20, 'F♯'),
    ]);
    expect(wide).toBeCloseTo((runs[2]?.from ?? 0) + fonts.width('plain', 20, '4'), 9);
    expect(fonts.width('plain', 40, 'F♯4')).toBeCloseTo(2 * wide, 9);
  });

  it('fit words into a width: as they are, smaller, or cut short, never beyond it', () => {
    const natural = fonts.width('plain', 10, 'a canon in two parts');
    expect(fit(fonts, 'plain', 'a canon in two parts', 10, natural + 1, 0.8).size).toBe(10);
    const smaller = fit(fonts, 'plain', 'a canon in two parts', 10, natural * 0.9, 0.8);
    expect(smaller.text).toBe('a canon in two parts');
    expect(smaller.size).toBeCloseTo(9, 9);
    const cut = fit(fonts, 'plain', 'a canon in two parts', 10, natural / 2, 0.8);
    expect(cut.text).toMatch(/^a canon.*…$/);
    expect(cut.size).toBe(8);
    expect(cut.width).toBeLessThanOrEqual(natural / 2);
  });

  it('have every sign the page draws, as SMuFL numbers them', () => {
    // Clefs, heads, rests, flags, signs, tuplet figures, dynamics, articulations, metronome notes.
    const signs =
      '\ue050\ue062\ue0a2\ue0a3\ue0a4\ue4e3\ue4e5\ue240\ue262\ue260\ue261\ue883\ue52b\ue520\ue4a0\ueca5';
    expect(fonts.runs('notation', signs)).toHaveLength(1);
  });
});

describe('a PNG', () => {
  it('gets a pHYs chunk after its header, with the right check sum', () => {
    const plainPng = Uint8Array.from({ length: 60 }, (_, i) => i);
    const out = withResolution(plainPng, 300);
    expect(out.length).toBe(81);
    const view = new DataView(out.buffer);
    expect(view.getUint32(33)).toBe(9);
    expect(String.fromCharCode(...out.subarray(37, 41))).toBe('pHYs');
    expect(view.getUint32(41)).toBe(11811);
    // CRC-32 of "pHYs 00002e23 00002e23 01" by zlib.
    expect(view.getUint32(50)).toBe(CRC_BY_ZLIB);
    expect(out.subarray(54)).toEqual(plainPng.subarray(33));
  });
});

const CRC_BY_ZLIB = 0x78a53f76;
