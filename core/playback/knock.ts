import type { Hertz, Seconds } from '../foundation/units.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import { malletFor } from '../instruments/mallets.ts';
import { MALLETS } from './mallets.ts';
import { type BarStroke, contactTime, speedOf } from './struckBar.ts';

/** The short noise of a blow: the mallet's head and the frame, not the bar's tuned modes. */
export interface Knock {
  /** Root mean square at its start, beside a strongest partial of 1. */
  readonly size: number;
  /** Above this it falls by 6 dB an octave. */
  readonly edge: Hertz;
  readonly t60: Seconds;
}

/** On metal the head says little beside the bar (our choice). */
const ON_METAL = 0.5;

/** A harder head is heard higher and more; a faster one a little more than the bar. */
export const knockOf = (stroke: BarStroke): Knock => {
  const onMetal = INSTRUMENTS[stroke.instrument].material === 'metal';
  const { knock } = MALLETS[malletFor(stroke.instrument, stroke.mallet)];
  const faster = (speedOf(stroke.velocity) / speedOf(80)) ** 0.15;
  return {
    size: knock * (onMetal ? ON_METAL : 1) * faster,
    edge: 1 / contactTime(stroke),
    t60: onMetal ? 0.02 : 0.035,
  };
};

/** Adds a knock; the same every time, for its noise is a fixed sequence of numbers. */
export const addKnock = (into: Float64Array, { size, edge, t60 }: Knock, sampleRate: Hertz): void => {
  const follow = 1 - Math.exp((-2 * Math.PI * edge) / sampleRate);
  // White noise in -1..1 has a root mean square of 1/√3; the low-pass leaves √(follow / (2 - follow)) of it.
  let level = (size * Math.sqrt(3)) / Math.sqrt(follow / (2 - follow));
  const shrink = 10 ** (-3 / (t60 * sampleRate));
  const length = Math.min(into.length, Math.ceil(t60 * sampleRate));
  let seed = 40503;
  let held = 0;
  for (let i = 1; i < length; i += 1) {
    seed = (Math.imul(seed, 1664525) + 1013904223) | 0;
    held += follow * (seed / 0x80000000 - held);
    into[i] = (into[i] ?? 0) + level * held;
    level *= shrink;
  }
};
