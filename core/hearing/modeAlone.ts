import { type PitchBands, loudnessAt } from './bands.ts';
import { type BandOnset, riseAt, spanOf } from './bandOnsets.ts';
import type { Blow } from './blow.ts';
import { MODE, MODE_ALONE, PER_SEMITONE } from './constants.ts';
import { betweenMoments } from './inTime.ts';

/** A bar, and one of its modes that was heard when it was struck. */
interface KnownMode {
  readonly bar: number;
  readonly mode: number;
  readonly times: number;
}

const isAbove = (mode: number, bar: number): boolean => {
  const semitones = (mode - bar) / PER_SEMITONE;
  return semitones >= MODE.from && semitones <= MODE.to;
};

/** Which modes were heard together with which bars, louder than they, and how often. */
const modesHeard = (beginnings: readonly BandOnset[], blows: readonly Blow[]): readonly KnownMode[] => {
  const known = new Map<string, KnownMode>();
  const inTime = [...beginnings].sort((a, b) => a.at - b.at);
  for (const blow of blows) {
    for (const one of betweenMoments(
      inTime,
      ({ at }) => at,
      blow.rose - 2 * MODE.before,
      blow.rose + 2 * MODE.before,
    )) {
      if (one.loudness < MODE_ALONE.loud * blow.loudness) continue;
      if (Math.abs(one.at - blow.rose) > MODE.before || !isAbove(one.band, blow.band)) continue;
      const name = `${String(blow.band)} ${String(one.band)}`;
      const before = known.get(name)?.times ?? 0;
      known.set(name, { bar: blow.band, mode: one.band, times: before + 1 });
    }
  }
  return [...known.values()];
};

/** How loud a bar became when something began above it, where it swelled then at all. */
const swellOf = ({ all, hop, looks }: PitchBands, bar: number, at: number): number | undefined => {
  const band = all[bar];
  if (band === undefined) return undefined;
  const span = spanOf(band, hop);
  const first = Math.max(0, Math.round(at / hop));
  let best: number | undefined;
  let most: number = MODE_ALONE.rise;
  for (let look = first; look <= Math.min(looks - 1, first + 2 * span + 6); look++) {
    const rise = riseAt(band, look, span);
    if (rise < most) continue;
    most = rise;
    best = loudnessAt(band, look);
  }
  return best;
};

/**
 * Blows of which only a mode stands out of the noise, as the bars they are on: where that mode was heard with that bar
 * elsewhere in the take, as often as alone, and the bar swelled now too. What else was struck stays as it is.
 */
export const withBarsOfLoneModes = (
  bands: PitchBands,
  beginnings: readonly BandOnset[],
  blows: readonly Blow[],
): readonly Blow[] => {
  const known = modesHeard(beginnings, blows);
  const on = new Map<number, number>();
  for (const { band } of blows) on.set(band, (on.get(band) ?? 0) + 1);
  return blows.map(blow => {
    let best: (KnownMode & { readonly loudness: number }) | undefined;
    const asBar = [-1, 0, 1].reduce((sum, d) => sum + (on.get(blow.band + d) ?? 0), 0);
    for (const one of known) {
      const isOften = one.times > (best?.times ?? 0) && one.times >= Math.max(MODE_ALONE.times, asBar);
      if (!isOften || Math.abs(one.mode - blow.band) > 1) continue;
      const loudness = swellOf(bands, one.bar, blow.at);
      if (loudness !== undefined && loudness >= MODE_ALONE.beside * blow.loudness)
        best = { ...one, loudness };
    }
    return best === undefined
      ? blow
      : { ...blow, band: best.bar, loudness: Math.max(best.loudness, MODE_ALONE.stands * blow.loudness) };
  });
};
