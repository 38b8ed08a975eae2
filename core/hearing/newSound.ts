import type { Seconds } from '../foundation/units.ts';
import { loudnessAt, type PitchBand, type PitchBands } from './bands.ts';
import { CONTACT } from './constants.ts';
import { PHASES } from './resonator.ts';

/** What sounds in a band at a look, as an arrow that turns. */
const arrowAt = (band: PitchBand, look: number): readonly [number, number] => {
  const length = loudnessAt(band, look);
  const angle = ((band.phase[look] ?? 0) * 2 * Math.PI) / PHASES;
  return [length * Math.cos(angle), length * Math.sin(angle)];
};

/** By what an arrow is multiplied from look to look while a bar rings on: how far it turns, and how it dies. */
const turnIn = (band: PitchBand, from: number, to: number): readonly [number, number] => {
  let [re, im, whole] = [0, 0, 0];
  let [a, b] = arrowAt(band, from);
  for (let look = from + 1; look <= to; look++) {
    const [c, d] = arrowAt(band, look);
    re += c * a + d * b;
    im += d * a - c * b;
    whole += a * a + b * b;
    [a, b] = [c, d];
  }
  if (whole === 0) return [0, 0];
  // A bar that is left alone never becomes louder.
  const scale = Math.max(whole, Math.hypot(re, im));
  return [re / scale, im / scale];
};

/**
 * How loud it is, in a band from a look on, what cannot be told from what sounded before: the greatest distance from
 * how the bar would ring on. A blow on a ringing bar may add to its swing or take from it, as it happens; here it is as
 * loud as on a bar that was still.
 * @param since when the bar was struck last
 */
export const newSoundIn = (
  { hop, looks }: Pick<PitchBands, 'hop' | 'looks'>,
  band: PitchBand,
  look: number,
  since: Seconds,
): number => {
  const last = look - 1;
  const settled = Math.ceil((since + CONTACT.settles * band.lag) / hop);
  const from = Math.max(0, Math.min(last - 1, Math.max(settled, last - CONTACT.known)));
  const [re, im] = turnIn(band, from, last);
  let [a, b] = arrowAt(band, last);
  let most = 0;
  const end = Math.min(looks - 1, look + Math.round((CONTACT.tells * band.lag) / hop) + 3);
  for (let at = look; at <= end; at++) {
    [a, b] = [a * re - b * im, a * im + b * re];
    const [c, d] = arrowAt(band, at);
    most = Math.max(most, Math.hypot(c - a, d - b));
  }
  return most;
};
