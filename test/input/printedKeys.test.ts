import { afterEach, describe, expect, it, vi } from 'vitest';
import { keyMap } from '../../renderer/input/keyBars.ts';
import { keyLayout, printedOnKey } from '../../renderer/input/printedKeys.ts';

afterEach(() => {
  vi.unstubAllGlobals();
});

describe('what is printed on a key', () => {
  // W3C, UI Events KeyboardEvent code Values: the names of keys by their place.
  it('is its letter, or the sign of a keyboard of the United States', () => {
    expect(['KeyA', 'KeyP', 'Semicolon', 'Quote', 'BracketLeft'].map(code => printedOnKey(code))).toEqual([
      'A',
      'P',
      ';',
      '’',
      '[',
    ]);
    // No key that strikes a bar is without a name of its own.
    const names = [...keyMap(60).keys()].map(code => printedOnKey(code));
    expect(new Set(names).size).toBe(names.length);
    expect(names.every(name => name.length === 1)).toBe(true);
  });

  it('is what the browser knows of this keyboard, where it does', async () => {
    const french = new Map([
      ['KeyA', 'q'],
      ['Quote', 'ù'],
    ]);
    vi.stubGlobal('navigator', { keyboard: { getLayoutMap: () => Promise.resolve(french) } });
    const layout = await keyLayout();
    expect([
      printedOnKey('KeyA', layout),
      printedOnKey('Quote', layout),
      printedOnKey('KeyD', layout),
    ]).toEqual(['Q', 'Ù', 'D']);
  });

  it('needs no browser that knows', async () => {
    for (const navigator of [
      {},
      { keyboard: {} },
      { keyboard: { getLayoutMap: () => Promise.reject(new Error('not allowed in a frame')) } },
    ]) {
      vi.stubGlobal('navigator', navigator);
      expect([...(await keyLayout())]).toEqual([]);
    }
  });
});
