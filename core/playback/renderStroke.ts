import type { Hertz, MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import { type BarPartial, contactTime, partialsOf, strokePeak } from './struckBar.ts';

/**
 * No stroke is rendered for longer than this: a low vibraphone bar would ring for 40 s and cost
 * 8 MB. What still sounds then is faded over the last `FADE`.
 */
export const LONGEST_STROKE: Seconds = 6;
const FADE: Seconds = 1.5;

/** Above this share of the sample rate a partial is left out, or it would fold back as a wrong tone. */
const HIGHEST = 0.45;

/** Time until a partial has fallen 66 dB below the stroke's strongest. */
const ringsFor = ({ amplitude, t60 }: BarPartial): Seconds =>
  (t60 * Math.max(0, 66 + 20 * Math.log10(amplitude))) / 60;

/**
 * Adds one decaying sine as long as it can be heard, by a two-pole recursion. This and the loops
 * below are what a first strike waits for: plain loops, no array methods.
 */
const addPartial = (into: Float64Array, partial: BarPartial, sampleRate: Hertz): void => {
  const { frequency, amplitude, t60 } = partial;
  const turn = (2 * Math.PI * frequency) / sampleRate;
  const shrink = 10 ** (-3 / (t60 * sampleRate));
  const a = 2 * shrink * Math.cos(turn);
  const b = shrink * shrink;
  let now = 0;
  let next = amplitude * shrink * Math.sin(turn);
  const length = Math.min(into.length, Math.ceil(ringsFor(partial) * sampleRate));
  for (let i = 0; i < length; i += 1) {
    into[i] = (into[i] ?? 0) + now;
    const after = a * next - b * now;
    now = next;
    next = after;
  }
};

/** The push of the mallet rises, it does not jump; a jump would click. */
const softenStart = (samples: Float64Array, contact: Seconds, sampleRate: Hertz): void => {
  const length = Math.min(samples.length, Math.round((contact / 2) * sampleRate));
  for (let i = 0; i < length; i += 1) {
    samples[i] = (samples[i] ?? 0) * (0.5 - 0.5 * Math.cos((Math.PI * (i + 1)) / (length + 1)));
  }
};

const fadeEnd = (samples: Float64Array, fade: Seconds, sampleRate: Hertz): void => {
  const length = Math.min(samples.length, Math.round(fade * sampleRate));
  const start = samples.length - length;
  for (let i = 0; i < length; i += 1) {
    samples[start + i] = (samples[start + i] ?? 0) * (0.5 + 0.5 * Math.cos((Math.PI * (i + 1)) / length));
  }
};

/**
 * One stroke as sound, mono, its first sample at the moment of the blow. The same stroke gives the
 * same samples every time. Its highest peak is `strokePeak(velocity)`, whatever the pitch.
 * @param pitch as it sounds
 * @param sampleRate samples a second, 8000 or more
 */
export const renderStroke = (
  instrument: InstrumentId,
  pitch: MidiPitch,
  velocity: Velocity,
  sampleRate: Hertz,
): Float32Array => {
  const all = partialsOf(instrument, pitch, velocity);
  const audible = all.filter((partial, mode) => mode === 0 || partial.frequency < HIGHEST * sampleRate);
  const rings = Math.max(...audible.map(ringsFor));
  const seconds = Math.min(rings, LONGEST_STROKE);
  const samples = new Float64Array(Math.ceil(seconds * sampleRate));
  for (const partial of audible) addPartial(samples, partial, sampleRate);
  softenStart(samples, contactTime(instrument, pitch, velocity), sampleRate);
  fadeEnd(samples, rings > LONGEST_STROKE ? FADE : 0.01, sampleRate);
  let peak = 0;
  for (let i = 0; i < samples.length; i += 1) {
    const size = Math.abs(samples[i] ?? 0);
    if (size > peak) peak = size;
  }
  const gain = peak === 0 ? 0 : strokePeak(velocity) / peak;
  const rendered = new Float32Array(samples.length);
  for (let i = 0; i < samples.length; i += 1) rendered[i] = (samples[i] ?? 0) * gain;
  return rendered;
};
