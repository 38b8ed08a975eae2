/** What we use of fontkit; its published types would bring all of Node's into the page. */
declare module 'fontkit' {
  export interface Glyph {
    readonly id: number;
    /** In font units. */
    readonly advanceWidth: number;
    readonly path: { toSVG(): string };
  }
  export interface Font {
    readonly postscriptName: string;
    readonly unitsPerEm: number;
    hasGlyphForCodePoint(code: number): boolean;
    layout(text: string): { readonly glyphs: readonly Glyph[] };
  }
  export const create: (bytes: Uint8Array) => Font;
}
