import type { PitchBands } from '../../core/hearing/bands.ts';

/** Seconds from one look at the bands to the next. */
export const HOP = 0.003;

/** Bands a quarter-tone apart from A2 on that swing evenly. @param loudnessAt of a band at a moment, in seconds */
export const bandsOf = (looks: number, loudnessAt: (band: number, at: number) => number): PitchBands => ({
  all: Array.from({ length: 128 }, (_, band) => ({
    midi: 45 + band / 2,
    lag: 0.012,
    floor: 1e-6,
    ownFloor: 1e-6,
    phase: new Uint8Array(looks),
    loudness: Float32Array.from({ length: looks }, (_, look) => loudnessAt(band, look * HOP)),
  })),
  bright: [],
  hop: HOP,
  looks,
});
