import { fraction, type Fraction, toNumber } from '../../core/foundation/fraction.ts';
import { type Metre, metre, tactus } from '../../core/foundation/metre.ts';
import type { Strike, Take } from '../../core/take/take.ts';

/** Places as a musician counts them: crotchets from the first barline, "3/2" or 1.5. */
export const place = (crotchets: number): Fraction => fraction(Math.round(crotchets * 48), 192);

export interface Played {
  /** Places in crotchets from the first barline. */
  readonly at: readonly number[];
  readonly pitch?: readonly number[];
  readonly metre?: Metre;
  /** Crotchets a minute. */
  readonly tempo?: number;
  /** Added to every strike in turn, in milliseconds. */
  readonly off?: readonly number[];
  /** Where the off-beat quaver falls, as a share of the crotchet. */
  readonly swing?: number;
  readonly click?: boolean;
}

/** A take of somebody playing these places to a click, with a count-in of two seconds. */
export const played = (p: Played): Take => {
  const m = p.metre ?? metre(4, 4);
  const crotchet = 60 / (p.tempo ?? 90);
  const swing = p.swing ?? 0.5;
  const seconds = (x: number): number => {
    const beat = Math.floor(x + 1e-9);
    const part = x - beat;
    const bent = Math.abs(part - 0.5) < 1e-6 ? swing : part;
    return 2 + (beat + bent) * crotchet;
  };
  const strikes: Strike[] = p.at.map((x, i) => ({
    at: seconds(x) + (p.off?.[i % (p.off.length || 1)] ?? 0) / 1000,
    pitch: p.pitch?.[i % (p.pitch.length || 1)] ?? 60 + ((i * 5) % 12),
    velocity: 90,
  }));
  const step = toNumber(tactus(m)) * 4 * crotchet;
  const last = Math.max(...p.at) * crotchet;
  return {
    id: 'example',
    capturedAt: '2026-01-01T00:00:00.000Z',
    source: 'midi',
    from: 'example',
    latency: 0,
    lengthsMean: false,
    strikes,
    ...(p.click === false
      ? {}
      : {
          click: {
            metre: m,
            beats: Array.from({ length: Math.ceil(last / step) + 3 }, (_, k) => 2 + k * step),
          },
        }),
  };
};

/** Onsets of a reading in crotchets. */
export const places = (
  reading: { readonly notes: readonly { readonly onset: Fraction }[] } | undefined,
): number[] => (reading?.notes ?? []).map(n => (4 * n.onset.n) / n.onset.d);
/** Lengths of a reading in crotchets. */
export const written = (
  reading: { readonly notes: readonly { readonly duration: Fraction }[] } | undefined,
): number[] => (reading?.notes ?? []).map(n => (4 * n.duration.n) / n.duration.d);
