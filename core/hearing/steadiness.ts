import { loudnessAt, type PitchBand } from './bands.ts';
import { PHASES } from './resonator.ts';

/** How far the swing that fits best is looked for around the first guess: steps to each side, and their width. */
const TURN = { steps: 10, width: 0.01 };
const DYING = { steps: 4, width: 0.01 };

/** A swing from look to look: by how much it turns, in radians, and how it dies (at most 0), as logarithms. */
interface Swing {
  readonly turn: number;
  readonly dying: number;
}

/** Sound in a band, look by look, as arrows that turn. */
interface Arrows {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly power: number;
}

const arrowsOf = (band: PitchBand, from: number, to: number): Arrows => {
  const length = Math.max(0, to - from + 1);
  const [re, im] = [new Float64Array(length), new Float64Array(length)];
  let power = 0;
  for (let i = 0; i < length; i++) {
    const loudness = loudnessAt(band, from + i);
    const angle = ((band.phase[from + i] ?? 0) * 2 * Math.PI) / PHASES;
    re[i] = loudness * Math.cos(angle);
    im[i] = loudness * Math.sin(angle);
    power += loudness * loudness;
  }
  return { re, im, power };
};

/** How it swings from one look to the next, taken all together. */
const guessOf = ({ re, im }: Arrows): Swing => {
  let [c, d, whole] = [0, 0, 0];
  for (let i = 1; i < re.length; i++) {
    const [a, b, x, y] = [re[i - 1] ?? 0, im[i - 1] ?? 0, re[i] ?? 0, im[i] ?? 0];
    c += x * a + y * b;
    d += y * a - x * b;
    whole += a * a + b * b;
  }
  return { turn: Math.atan2(d, c), dying: Math.log(Math.max(1e-9, Math.hypot(c, d) / whole)) };
};

/** Which share of what sounds is this swing, whatever it began with. */
const shareOf = ({ re, im, power }: Arrows, { turn, dying }: Swing): number => {
  let [p, q, whole] = [0, 0, 0];
  // The swing itself, turned on from look to look.
  const shrinks = Math.exp(dying);
  const [stepRe, stepIm] = [shrinks * Math.cos(turn), shrinks * Math.sin(turn)];
  let [c, d] = [1, 0];
  for (let i = 0; i < re.length; i++) {
    const [a, b] = [re[i] ?? 0, im[i] ?? 0];
    p += a * c + b * d;
    q += b * c - a * d;
    whole += c * c + d * d;
    [c, d] = [c * stepRe - d * stepIm, c * stepIm + d * stepRe];
  }
  return (p * p + q * q) / whole / power;
};

/**
 * How much of what sounds in a band is no single swing that dies away, in dB of all of it: a bar that was struck swings
 * at one frequency until it is struck again or damped. 0 where nothing sounds.
 * @param from first look @param to last look
 * @example
 * unsteadinessOf({ midi: 69, lag: 0.01, loudness: new Float32Array(9), phase: new Uint8Array(9), floor: 0, ownFloor: 0 }, 0, 8) // => 0
 */
export const unsteadinessOf = (band: PitchBand, from: number, to: number): number => {
  const arrows = arrowsOf(band, from, to);
  if (arrows.power === 0) return 0;
  const guess = guessOf(arrows);
  let best = 0;
  for (let t = -TURN.steps; t <= TURN.steps; t++) {
    for (let s = -DYING.steps; s <= DYING.steps; s++) {
      const swing = {
        turn: guess.turn + t * TURN.width,
        dying: Math.min(0, guess.dying + s * DYING.width),
      };
      best = Math.max(best, shareOf(arrows, swing));
    }
  }
  return 10 * Math.log10(Math.max(1e-6, 1 - best));
};
