import { describe, expect, it } from 'vitest';
import { evidencePack } from '../../core/evidence/evidencePack.ts';
import { unzipByHand } from '../library/portable/zip.ts';

describe('an evidence pack', () => {
  it('is a zip archive as the standard says, with every file whole, two of one name as well', () => {
    const bytes = (text: string): Uint8Array => new TextEncoder().encode(text.repeat(200));
    const files = [
      { name: 'piece.pdf', bytes: bytes('score') },
      { name: 'piece.mid', bytes: bytes('one') },
      { name: 'piece.mid', bytes: bytes('two') },
      { name: 'Glocken-ä.html', bytes: bytes('sheet') },
    ];
    const pack = evidencePack(files, new Date(2026, 10, 27, 10));
    const read = unzipByHand(pack);
    expect([...read.keys()]).toEqual(['piece.pdf', 'piece.mid', 'piece-2.mid', 'Glocken-ä.html']);
    expect([...read.values()]).toEqual(files.map(file => file.bytes));
    // The PDF is pressed already and lies as it is; text is pressed.
    expect(pack.length).toBeGreaterThan(1000);
    expect(pack.length).toBeLessThan(2000);
  });
});
