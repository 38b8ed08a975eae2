import { describe, expect, it } from 'vitest';
import type { PitchBands } from '../../core/hearing/bands.ts';
import type { Blow } from '../../core/hearing/blow.ts';
import type { Contact } from '../../core/hearing/contacts.ts';
import { withTouches } from '../../core/hearing/touched.ts';

describe('a blow that was told too late without its contact', () => {
  const HOP = 0.003;
  const [BAR, OTHER] = [54, 64];
  const bands: PitchBands = {
    all: Array.from({ length: 128 }, (_, i) => ({
      midi: 45 + i / 2,
      lag: 0.012,
      floor: 1e-6,
      ownFloor: 1e-6,
      phase: new Uint8Array(800),
      // The bar is struck at 0.5 and 1 s, the other at 1.3 s.
      loudness: Float32Array.from({ length: 800 }, (__, look) => {
        const at = look * HOP;
        const on = (from: number): boolean => at >= from && at < from + 0.3;
        return (i === BAR && (on(0.5) || on(1))) || (i === OTHER && on(1.3)) ? 0.05 : 0.001;
      }),
    })),
    bright: [],
    hop: HOP,
    looks: 800,
  };
  const contact = (at: number): Contact => ({ at, look: Math.round(at / HOP), loudness: 0.01, rise: 12 });
  const blow = (band: number, at: number): Blow => ({ band, at, rose: at, loudness: 0.05 });
  const told = (...late: readonly Blow[]) =>
    withTouches(bands, [0.5, 1, 1.3].map(contact), [blow(BAR, 0.5), ...late, blow(OTHER, 1.3)])
      .map(({ band, at }) => [band, at] as const)
      .sort((a, b) => a[1] - b[1]);
  const [first, last] = [
    [BAR, 0.5],
    [OTHER, 1.3],
  ];

  it('is told once, at the contact', () => {
    expect(told(blow(BAR, 1.055))).toEqual([first, [BAR, 1], last]);
    // A quarter-tone beside it is the same bar.
    expect(told(blow(BAR + 2, 1.055))).toEqual([first, [BAR, 1], last]);
  });

  it('is another where it is later, on another bar, or has a contact of its own', () => {
    expect(told(blow(BAR, 1.08))).toEqual([first, [BAR, 1], [BAR, 1.08], last]);
    expect(told(blow(OTHER, 1.055))).toEqual([first, [BAR, 1], [OTHER, 1.055], last]);
    const own = { ...blow(BAR, 1.055), contact: contact(1.055) };
    const both = withTouches(bands, [0.5, 1, 1.055, 1.3].map(contact), [
      blow(BAR, 0.5),
      own,
      blow(OTHER, 1.3),
    ]);
    expect(both.map(({ at }) => at).sort()).toEqual([0.5, 1, 1.055, 1.3]);
  });
});
